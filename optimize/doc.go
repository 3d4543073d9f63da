// Package optimize tunes bounded parameters so that computed numbers meet
// their wants. It knows nothing of what the numbers mean: a Problem is a list
// of parameters, a list of wants and a function that computes numbers with
// exact gradients.
//
// # What is minimised
//
// Every want has a scale, the just-noticeable step in its number's own unit,
// and a weight. The miss of a target is value − target; the shortfall of a
// limit (AtLeast, AtMost) is how far the value falls short of it, 0 if it
// holds.
//
//	violation = Σ over limits   weight·(shortfall/scale)²
//	aim       = Σ over targets  weight·(miss/scale)²
//	          − Σ over MakeLarge weight·value/scale
//	          + Σ over MakeSmall weight·value/scale
//
// Limits come first, in two stages from every start:
//
//  1. The violation is minimised inside the bounds. It stops as soon as all
//     limits hold.
//  2. The aim is minimised with the limits as hard constraints. Where they
//     cannot all hold, the result says NotReached or AtCorner, never Converged:
//     if the point of least violation is the only one nearby, it is the end;
//     else the limits are relaxed to exactly the shortfall of stage 1, and
//     stage 1 is run once more from where the aim leads.
//
// # Method
//
// Sequential quadratic programming (Nocedal & Wright, Numerical Optimization,
// 2nd ed., 2006, ch. 18). The quadratic subproblem is solved by the dual
// method of Goldfarb & Idnani (Mathematical Programming 27, 1983, 1–33). Its
// Hessian is the Gauss–Newton matrix of the targets plus a damped BFGS
// correction (Powell 1978; N&W procedure 18.2) for all other curvature. A line
// search on an exact penalty function accepts steps, with a second-order
// correction against the Maratos effect (N&W section 18.3); near the end, where
// the fall of the costs drowns in the rounding of the numbers, the gradients
// accept them (after Hager & Zhang, SIAM J. Optim. 16, 2005). When the
// linearised limits contradict each other the subproblem turns elastic (N&W
// section 18.2): shortfalls are allowed at a price.
//
// Bounds are constraints of the subproblem, not a change of variable, and no
// point outside them is ever evaluated. Inside, every free parameter is
// measured as a fraction of its range (of the range of its logarithm on a Log
// scale); "per range" below means in that measure.
//
// Measured data are fitted by Fit: bounded non-linear least squares that also
// tells how sure every parameter is, what the data cannot tell, and what to
// measure next.
//
// Several starts run one after the other: the present values, points of a
// seeded Halton sequence, and the end of a seeded CMA-ES search. The same
// problem and seed give the same result to the last bit on any machine with
// the same floating-point arithmetic, whatever its number of processors.
package optimize

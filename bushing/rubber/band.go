package rubber

// Band is how far a rate may lie from its number, as factors, and why.
type Band struct {
	Source    string
	Low, High float64
}

// Between are two limits that a number must lie between, and what they are.
type Between struct {
	Low, High     float64
	LowIs, HighIs string
}

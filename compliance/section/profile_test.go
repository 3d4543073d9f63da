package section_test

import (
	"math"
	"strings"
	"testing"

	. "bushtune/compliance/section"
)

// Every mistake of a drawing is named with its node or wall.
func TestMistakes(t *testing.T) {
	straight := func(p *Profile[float64]) {
		p.AddNode(0, 0)
		p.AddNode(50, 0)
		p.AddNode(50, 40)
		p.AddWall(0, 1, 3)
		p.AddWall(1, 2, 3)
	}
	for name, e := range map[string]struct {
		draw func(p *Profile[float64])
		want []string
	}{
		"empty":         {func(p *Profile[float64]) { p.Clear() }, []string{"at least one wall"}},
		"missing node":  {func(p *Profile[float64]) { p.AddWall(1, 7, 3) }, []string{"wall 2", "node 7", "no such node"}},
		"negative node": {func(p *Profile[float64]) { p.AddWall(-1, 1, 3) }, []string{"wall 2", "no such node"}},
		"own node":      {func(p *Profile[float64]) { p.AddArc(1, 1, 3, math.Pi) }, []string{"wall 2", "same node"}},
		"no length":     {func(p *Profile[float64]) { p.AddWall(0, p.AddNode(0, 0), 3) }, []string{"wall 2 (node 0 to node 3)", "no length"}},
		"no thickness":  {func(p *Profile[float64]) { p.Walls[0].Thickness = 0 }, []string{"wall 0", "thickness 0 mm"}},
		"thickness NaN": {func(p *Profile[float64]) { p.Walls[0].Thickness = math.NaN() }, []string{"wall 0", "thickness NaN"}},
		"endless wall":  {func(p *Profile[float64]) { p.Walls[0].Thickness = math.Inf(1) }, []string{"wall 0", "thickness +Inf"}},
		"full circle":   {func(p *Profile[float64]) { p.Walls[1].Angle = 2 * math.Pi }, []string{"wall 1", "full circle needs two arcs"}},
		"angle NaN":     {func(p *Profile[float64]) { p.Walls[1].Angle = math.NaN() }, []string{"wall 1", "arc angle NaN"}},
		"place NaN":     {func(p *Profile[float64]) { p.Nodes[2].U = math.NaN() }, []string{"node 2", "not finite"}},
		"twice":         {func(p *Profile[float64]) { p.AddWall(0, 1, 3) }, []string{"wall 2", "same wall as wall 0"}},
		"twice, back":   {func(p *Profile[float64]) { p.AddWall(1, 0, 9) }, []string{"wall 2", "same wall as wall 0"}},
		"twice, arc":    {func(p *Profile[float64]) { p.AddArc(0, 1, 3, 1); p.AddArc(1, 0, 3, -1) }, []string{"wall 3", "same wall as wall 2"}},
		"in pieces":     {func(p *Profile[float64]) { p.AddWall(p.AddNode(9, 9), p.AddNode(20, 9), 3) }, []string{"node 3 to node 0", "in pieces"}},
		"lonely node":   {func(p *Profile[float64]) { p.AddNode(9, 9) }, []string{"node 3", "in pieces"}},
		"flat":          {func(p *Profile[float64]) { p.Nodes[2].U = 0; p.Nodes[2].F = 90 }, []string{"one straight line"}},
		"two at once":   {func(p *Profile[float64]) { p.Walls[0].Thickness = -1; p.Walls[1].Angle = 9 }, []string{"wall 0", "wall 1"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := drawn(straight)
			e.draw(p)
			_, err := p.Constants()
			if err == nil {
				t.Fatal("no error")
			}
			for _, words := range append(e.want, "section: ") {
				if !strings.Contains(err.Error(), words) {
					t.Errorf("error %q does not say %q", err, words)
				}
			}
		})
	}
}

// Two different arcs, or an arc and its chord, may join the same two nodes.
func TestTwoWallsBetweenTwoNodes(t *testing.T) {
	const r, wall = 30.0, 1.0
	c := constants(t, drawn(func(p *Profile[float64]) {
		p.AddNode(r, 0)
		p.AddNode(-r, 0)
		p.AddArc(0, 1, wall, math.Pi)
		p.AddWall(0, 1, wall)
	}))
	// One cell, a half circle with its diameter: 4A²/∮ds/t (Bredt 1896); two corners of 90
	// deg are each 0.441 squares shorter than their midlines (2·ln 2/π).
	area, length := math.Pi*r*r/2, math.Pi*r+2*r
	near(t, "J", c.Torsion, 4*area*area/(length/wall-2*0.441)+walls(length, wall), 0.003)
}

// A small profile that is drawn again in the same memory needs no allocation.
func TestAllocation(t *testing.T) {
	p := drawn(func(p *Profile[float64]) { p.DrawV(80, 60, 30, 30*degree, 5) })
	if n := testing.AllocsPerRun(100, func() {
		p.Clear()
		p.DrawV(80, 60, 30, 30*degree, 5)
		if _, err := p.Constants(); err != nil {
			t.Error(err)
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

package show

import (
	"fmt"
	"strconv"
	"strings"

	"bushtune/cases"
)

// loadTable writes, bush by bush, load and travel in every case and state.
func (v *view) loadTable(p *Page) {
	p.blank()
	p.Heading("BUSH LOADS AND TRAVEL")
	loads := v.study.BushLoads()
	if len(loads) == 0 {
		p.Prose("  ", "The axle has no bush.")
		return
	}
	rest := "on top of rest and without it: static load not included"
	if v.study.Solver().Loaded() {
		rest = "with the load at rest"
	}
	p.Prose("  ", "Load "+rest+"; travel from rest, of the rubber alone. Radial is across the bush axis. "+
		"Built-in cases put 1 kN, or 100 N·m, on each loaded wheel; states and cases of your own put their own loads.")
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {align: point}, {}}}
	for _, bush := range bushes(loads) {
		first := true
		for i := range loads {
			if loads[i].Element != bush {
				continue
			}
			usages := v.study.Usages(&loads[i])
			if first {
				g.heading("  " + bush + limits(usages))
				g.add("    case", "pads", "radial N", "axial N", "radial mm", "axial mm", "")
				first = false
			}
			v.addLoad(&g, loads[i].Case, usages)
		}
	}
	g.write(p)
}

// bushes lists the bushes in the order of the loads.
func bushes(loads []cases.BushLoad) []string {
	var names []string
	for i := range loads {
		if i > 0 && loads[i].Case != loads[0].Case {
			break
		}
		names = append(names, loads[i].Element)
	}
	return names
}

// limits names the limits that a bush is given.
func limits(usages [4]cases.Usage) string {
	var given []string
	for _, u := range usages {
		if u.Limit > 0 {
			given = append(given, u.What+" "+measure(u.Limit)+" "+u.Unit)
		}
	}
	if given == nil {
		return ", no limits given"
	}
	return ", limits: " + strings.Join(given, ", ")
}

// addLoad writes one case of one bush; an exceeded limit is named.
func (v *view) addLoad(g *grid, name string, usages [4]cases.Usage) {
	cells := []cell{words("    " + name), words(v.pads[name].String())}
	var over []string
	for i, u := range usages {
		decimals := 0
		if i >= 2 {
			decimals = 2
		}
		cells = append(cells, words(strconv.FormatFloat(u.Value, 'f', decimals, 64)))
		if u.Over() {
			over = append(over, fmt.Sprintf("%s over by %.0f %%", u.What, 100*(u.Value/u.Limit-1)))
		}
	}
	g.addCells(append(cells, cell{strings.Join(over, ", "), bad})...)
}

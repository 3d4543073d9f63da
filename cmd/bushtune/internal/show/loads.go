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
	strains := v.strainColumns(loads)
	v.loadLegend(p, strains != nil)
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {align: point}}}
	for range strains {
		g.columns = append(g.columns, column{align: point})
	}
	for _, bush := range bushes(loads) {
		first := true
		for i := range loads {
			if loads[i].Element != bush {
				continue
			}
			usages, strained := v.study.Usages(&loads[i]), v.study.WorstStrains(&loads[i])
			if first {
				g.heading("  " + bush + limits(usages) + strainLimits(strained))
				g.add(append([]string{"    case", "pads", "radial N", "axial N", "radial mm", "axial mm"}, strainHeads(strains, strained)...)...)
				first = false
			}
			v.addLoad(&g, loads[i].Case, append(usages[:], strained...), len(strains))
		}
	}
	g.write(p)
}

// loadLegend says what the columns of the table mean.
func (v *view) loadLegend(p *Page, strained bool) {
	text := "Load on top of rest and without it: static load not included"
	if v.study.Solver().Loaded() {
		text = "Load with the load at rest"
	}
	text += "; travel from rest, of the rubber alone. Radial is across the bush axis. "
	if strained {
		text += "Compression and shear are the worst indicators of the rubber, the deflection at rest included. "
	}
	p.Prose("  ", text+"Built-in cases put 1 kN, or 100 N·m, on each loaded wheel; states and cases of your own put their own loads.")
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

// strainColumns are the columns for the worst strains of bushes whose dimensions
// are given; none if there is no such bush.
func (v *view) strainColumns(loads []cases.BushLoad) []string {
	for i := range loads {
		if v.study.Strains(&loads[i]) != nil {
			return []string{"compression %", "shear %"}
		}
	}
	return nil
}

// strainHeads are the headings of strain columns, left empty for a bush without
// them.
func strainHeads(columns []string, strained []cases.Usage) []string {
	if strained == nil {
		columns = make([]string, len(columns))
	}
	return columns
}

// strainLimits names the published limits of the strains of a bush.
func strainLimits(strained []cases.Usage) string {
	if strained == nil {
		return ""
	}
	return fmt.Sprintf("; published for long life: compression %s %%, shear %s %%", measure(strained[0].Limit), measure(strained[1].Limit))
}

// loadDecimals are the places that loads, travels and strains are written with.
var loadDecimals = map[string]int{"N": 0, "mm": 2, "%": 1}

// addLoad writes one case of one bush; an exceeded limit is named. Four usages
// and some strains take a column each, of which a bush without strains leaves
// some empty.
func (v *view) addLoad(g *grid, name string, usages []cases.Usage, strains int) {
	cells := []cell{words("    " + name), words(v.cases[name].Pads.String())}
	var over []string
	for _, u := range usages {
		cells = append(cells, words(strconv.FormatFloat(u.Value, 'f', loadDecimals[u.Unit], 64)))
		if u.Over() {
			over = append(over, fmt.Sprintf("%s over by %.0f %%", u.What, 100*(u.Value/u.Limit-1)))
		}
	}
	g.addCells(cells...)
	if over != nil {
		g.across("      "+strings.Join(over, ", "), bad)
	}
}

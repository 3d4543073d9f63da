package axlefile

import (
	"strconv"
	"strings"
)

// SplitSets takes apart what is asked for as one set: texts joined by +. A + behind
// = is the sign of a number.
func SplitSets(asked string) []string {
	var parts []string
	start := 0
	for i := range asked {
		if asked[i] == '+' && i > 0 && asked[i-1] != '=' {
			parts = append(parts, asked[start:i])
			start = i + 1
		}
	}
	return append(parts, asked[start:])
}

// IsShort tells rules in their short form from the name of a file.
func IsShort(text string) bool {
	return strings.Contains(text, "=") && !strings.HasSuffix(strings.ToLower(text), ".toml")
}

// shortForm reads a rule as it is typed on the command line,
// key=value[,key=value…][@bush…], into the table that a file would hold. Keys may
// also stand behind the places.
func (r *reader) shortForm(text string) *table {
	root, rules, rule := newTable(1), newTable(1), newTable(1)
	root.add(ruleSection, &entry{line: 1, table: rules})
	rules.add(shortRule, &entry{line: 1, table: rule})
	head, behind, placed := strings.Cut(text, "@")
	items, at := strings.Split(head, ","), &entry{line: 1, array: true}
	if placed {
		for _, item := range strings.Split(strings.ReplaceAll(behind, ",", "@"), "@") {
			if strings.Contains(item, "=") {
				items = append(items, item)
				continue
			}
			at.items = append(at.items, &entry{line: 1, value: strings.TrimSpace(item)})
		}
		rule.add(atKey, at)
	}
	for _, item := range items {
		name, value, ok := strings.Cut(item, "=")
		if name = strings.TrimSpace(name); !ok || rule.entries[name] != nil {
			r.wrong(1, "", quote(item)+" is not key=value, or the key is there already", "key=value[,key=value…][@bush.NAME…], as rates=1.5@bush.pivot", commaMeant(item))
			continue
		}
		rule.add(name, &entry{line: 1, value: shortValue(strings.TrimSpace(value))})
	}
	return root
}

// commaMeant is the hint where what stands behind a comma may be decimals.
func commaMeant(item string) string {
	if _, err := strconv.ParseUint(item, 10, 64); err == nil {
		return "decimals stand behind a point: 1.5"
	}
	return ""
}

// shortRule is the name of a rule that has none.
const (
	shortRule = "short"
	shortPath = ruleSection + "." + shortRule
)

// shortValue is a number, true, false, or else a text.
func shortValue(s string) any {
	if x, err := strconv.ParseFloat(s, 64); err == nil {
		return x
	}
	if b, err := strconv.ParseBool(s); err == nil && len(s) > 1 {
		return b
	}
	return s
}

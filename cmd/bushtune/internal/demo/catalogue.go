package demo

import _ "embed" // the catalogue's text

// The axle and the catalogue that choose takes when no file is given.
const (
	ChooseDefault = "saloon-semi-trailing"
	Catalogue     = "demo-catalogue"
)

//go:embed catalogues/demo-catalogue.toml
var catalogue string

// CatalogueText is the built-in catalogue: sixty invented bushes, as a TOML file.
func CatalogueText() []byte { return []byte(catalogue) }

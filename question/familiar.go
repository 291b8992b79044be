package question

import (
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// commonElements are those that a first course meets (common practice, no
// source).
const commonElements = " H Li C N O F Na Mg Al Si P S Cl K Ca Cr Mn Fe Co Ni Cu Zn As Br Ag Cd Sn I Ba Au Hg Pb Bi "

// familiar are the species, by key, that a first course meets: those of the
// textbook's table of potentials and of the curated library that consist of
// common elements.
var familiar = sync.OnceValue(func() map[string]bool {
	known := map[string]bool{}
	add := func(s *chem.Species) {
		for _, c := range s.Composition() {
			if !strings.Contains(commonElements, " "+c.Element.Symbol()+" ") {
				return
			}
		}
		known[s.Key()] = true
	}
	for _, c := range reference.Couples().All() {
		if c.Textbook {
			for _, s := range c.Half.Species() {
				add(s)
			}
		}
	}
	for _, r := range libraryRows() {
		for _, s := range r.skeleton.Species() {
			add(s)
		}
	}
	return known
})

// isFamiliar reports whether a first course meets a species.
func isFamiliar(s *chem.Species) bool { return isWater(s) || familiar()[s.Key()] }

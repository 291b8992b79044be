package reference

import (
	"errors"
	"sync/atomic"
)

// used is the table of species with the user's rows, once it is set. The table
// is asked for everywhere, as a language is, so a run has one.
var used atomic.Pointer[SpeciesTable]

// UseSpecies makes the rows of a user part of the table that Species returns,
// for the whole run. It is called once, before a question is read: others keep
// indexes of the table. A second call is an error and changes nothing.
func UseSpecies(own []*Entry) error {
	if !used.CompareAndSwap(nil, species().With(own)) {
		return errors.New("the table of species of this run is settled already")
	}
	return nil
}

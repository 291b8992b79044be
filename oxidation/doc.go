// Package oxidation assigns an oxidation state to each element of a species,
// with the reason for each.
//
// The definition is IUPAC's (P. Karen, P. McArdle, J. Takats, Pure Appl. Chem.
// 88, 831–839, 2016, doi:10.1515/pac-2015-1204); the order of the rules is
// common practice, no source. Where atoms of one element differ and the
// formula or the table of species tells them apart, a state has several sites;
// where it cannot, it is their mean and is called an average. Where school
// rules and the definition part (S2O3^2-, PH3), the school's value counts.
//
// Whether a reaction is redox is decided in package redox. Balancing never
// needs this package: a species without settled states still balances.
package oxidation

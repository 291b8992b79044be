// Package layers holds the test that imports between the packages of this
// module go one way.
package layers

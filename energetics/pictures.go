package energetics

import "halves/chem"

// The numbers of the field's pictures. How they are drawn is left to package
// diagram. Potentials are in volts against the standard hydrogen electrode.

// A Rung is one couple on a ladder of potentials.
type Rung struct {
	Half   chem.Equation // the reduction, balanced, with phases
	Volts  float64
	From   string // where the potential comes from, one sentence with its source
	Source string // key of the source
}

// A Ladder is couples in the order of their potentials, the highest first.
type Ladder struct {
	Title string
	Rungs []Rung
	// Oxidizing and Reducing are the rungs that a reaction joins: its reduction
	// and its oxidation; -1 where there is none.
	Oxidizing, Reducing int
}

// A Station is a species of a Latimer row or a Frost plot.
type Station struct {
	Species *chem.Species // with its phase
	State   chem.Ratio    // oxidation state of the element
}

// A Link is the potential between two stations of a Latimer row.
type Link struct {
	From, To  int // indexes of stations; To is the more reduced
	Volts     float64
	Electrons chem.Ratio // for one atom of the element
	Source    string     // sentence
	Sources   []string   // keys of the sources
	Memory    bool       // a figure from memory is among them
}

// A Latimer is a row of species of one element, the highest state first, with
// the potentials between neighbours and those that span several.
type Latimer struct {
	Element  chem.Element
	Medium   string // "acidic" (pH 0) or "basic" (pH 14)
	Stations []Station
	Links    []Link // neighbours first, in order, then the spans
}

// A Point is a station of a Frost plot: the free energy of one atom against the
// element, in electronvolts, which is state times potential.
type Point struct {
	Station
	Height  float64  // n E, in volts
	Sources []string // keys of the sources; nil for the element itself
	Memory  bool     // a figure from memory is among them
}

// A Frost is the plot of free energy against oxidation state.
type Frost struct {
	Element chem.Element
	Curves  []Curve
}

// A Curve is the points of one medium, the lowest state first.
type Curve struct {
	Medium string // "acidic" or "basic"
	Points []Point
	// Unstable lists the points that disproportionate: they lie above the line
	// between two others.
	Unstable []Disproportionation
}

// A Disproportionation is a point above the line between two others.
type Disproportionation struct{ Point, Lower, Upper int }

// A Vertex is a corner of a region.
type Vertex struct{ PH, Volts float64 }

// A Region is where one species has the lowest free energy.
type Region struct {
	Species *chem.Species
	Corners []Vertex // in order round the region
}

// A PHMap is a potential-pH map of one element in water.
type PHMap struct {
	Element          chem.Element
	Concentration    float64 // of dissolved species, mol/L
	PH               [2]float64
	Volts            [2]float64
	Regions          []Region
	Oxygen, Hydrogen [2]Vertex // the lines of water, from the least to the greatest pH
}

package marking

// A Verdict says what a line is worth.
type Verdict string

// The verdicts.
const (
	Comment   Verdict = "comment"   // no statement, or the question copied
	Stands    Verdict = "stands"    // true
	Follows   Verdict = "follows"   // a legal move from lines of which one was wrong
	Recovered Verdict = "recovered" // true again after a slip in its thread
	Slips     Verdict = "slips"
	Unread    Verdict = "unread"    // cannot be read: for a person to look at
	Elsewhere Verdict = "elsewhere" // about another question
)

// Words says a verdict to a reader.
func (v Verdict) Words() string {
	switch v {
	case Comment:
		return "nothing to judge"
	case Follows:
		return "follows from a wrong line"
	case Recovered:
		return "right again"
	case Unread:
		return "not read: please look"
	case Elsewhere:
		return "about something else"
	}
	return string(v)
}

// A Kind is what went wrong.
type Kind string

// The kinds of slip.
const (
	MainCoefficient     Kind = "main-coefficient"
	SubscriptAltered    Kind = "subscript-altered"
	ChargeMiscopied     Kind = "charge-miscopied"
	OxygenWithoutWater  Kind = "oxygen-without-water"
	WaterSide           Kind = "water-side"
	WaterCount          Kind = "water-count"
	HydrogenSide        Kind = "hplus-side"
	HydrogenCount       Kind = "hplus-count"
	ElectronSide        Kind = "electron-side"
	ElectronCount       Kind = "electron-count"
	ElectronsMissing    Kind = "electrons-missing"
	UnequalElectrons    Kind = "unequal-electrons"
	PartMultiplied      Kind = "part-multiplied"
	ElectronsKept       Kind = "electrons-kept"
	UnevenCancel        Kind = "uneven-cancel"
	SumSlip             Kind = "sum-slip"
	ChargeUnbalanced    Kind = "charge-unbalanced"
	NotLowest           Kind = "not-lowest"
	HydrogenInBase      Kind = "hplus-in-base"
	HydroxideOneSide    Kind = "hydroxide-one-side"
	WaterUncombined     Kind = "water-uncombined"
	StraySpecies        Kind = "stray-species"
	TermLost            Kind = "term-lost"
	LabelsSwapped       Kind = "labels-swapped"
	Backwards           Kind = "backwards"
	OxidationStateWrong Kind = "oxidation-state-wrong"
)

// Kinds lists the kinds in the order in which they are told.
var Kinds = []Kind{
	MainCoefficient, SubscriptAltered, ChargeMiscopied, OxygenWithoutWater, WaterSide, WaterCount, HydrogenSide, HydrogenCount,
	ElectronSide, ElectronCount, ElectronsMissing, UnequalElectrons, PartMultiplied, ElectronsKept, UnevenCancel, SumSlip,
	ChargeUnbalanced, NotLowest, HydrogenInBase, HydroxideOneSide, WaterUncombined, StraySpecies, TermLost, LabelsSwapped, Backwards, OxidationStateWrong,
}

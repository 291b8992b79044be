package energetics

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"halves/chem"
)

// Conditions are what a reaction takes place in, beside the standard state. The
// zero value is the standard state.
type Conditions struct {
	PH      *float64
	Celsius *float64
	// Activities are concentrations in mol/L of dissolved species and pressures
	// in bar of gases; what is not named has 1.
	Activities []Activity
}

// An Activity is the concentration or the pressure of one species.
type Activity struct {
	Species *chem.Species
	Value   float64
}

// Bounds of what is taken.
const (
	leastPH, mostPH           = -1.0, 15.0
	leastActivity             = 1e-30
	mostActivity              = 1e3
	leastCelsius, mostCelsius = 0.0, 100.0
)

func (c Conditions) standard() bool {
	return c.PH == nil && c.Celsius == nil && len(c.Activities) == 0
}

// A ConditionError says what is wrong with conditions.
type ConditionError struct{ Msg, Way string }

func (e *ConditionError) Error() string { return e.Msg }

// Hint says what to do.
func (e *ConditionError) Hint() string { return e.Way }

func (c Conditions) check() error {
	if c.PH != nil && !(*c.PH >= leastPH && *c.PH <= mostPH) {
		return &ConditionError{fmt.Sprintf("pH %s is out of range", fixed(*c.PH, 2)), fmt.Sprintf("give a pH from %s to %s", fixed(leastPH, 0), fixed(mostPH, 0))}
	}
	if c.Celsius != nil && !(*c.Celsius >= leastCelsius && *c.Celsius <= mostCelsius) {
		return &ConditionError{fmt.Sprintf("%s °C is out of range", fixed(*c.Celsius, 1)), "water is a liquid from 0 to 100 °C"}
	}
	for i, a := range c.Activities {
		if slices.ContainsFunc(c.Activities[:i], func(b Activity) bool { return same(a.Species, b.Species) }) {
			return &ConditionError{fmt.Sprintf("%s is given twice", a.Species), "give each species once"}
		}
		if c.PH != nil && (a.Species.Same(chem.Hydron) || a.Species.Same(chem.Hydroxide)) {
			return &ConditionError{fmt.Sprintf("the concentration of %s is given beside the pH, from which it follows", a.Species), "leave one of the two out"}
		}
		if !(a.Value >= leastActivity && a.Value <= mostActivity) {
			return &ConditionError{fmt.Sprintf("%s cannot have the concentration or pressure %s", a.Species, strconv.FormatFloat(a.Value, 'f', -1, 64)), "give a number above zero and at most 1000, in mol/L or in bar"}
		}
	}
	return nil
}

// Now is a reaction under conditions that are not standard.
type Now struct {
	Conditions
	Volts  float64  // potential of the cell
	LogQ   float64  // of the net equation
	Gibbs  float64  // dG in kJ for the equation as printed
	Taken  []string // sentences: what was taken for what
	Kelvin float64
}

// at applies the Nernst equation to the net reaction of a cell.
func (t Tables) at(c *Cell, k Conditions) (*Now, error) {
	if err := k.check(); err != nil {
		return nil, err
	}
	now := &Now{Conditions: k, Kelvin: Room}
	standard := c.Volts
	if k.Celsius != nil {
		now.Kelvin = *k.Celsius + Kelvin
		var err error
		if standard, err = t.warmed(c, now.Kelvin); err != nil {
			return nil, err
		}
		now.Taken = append(now.Taken, "Entropies were taken as those at 25 °C.")
	}
	used := map[int]bool{}
	logQ := 0.0
	for side, x := range c.Net.Terms {
		a, from, err := t.logActivity(k, x.Species, now.Kelvin, used)
		if err != nil {
			return nil, err
		}
		if from != "" {
			now.Taken = append(now.Taken, from)
		}
		logQ += float64(side) * float64(x.Coefficient.Num()) * a
	}
	for i, a := range k.Activities {
		if !used[i] {
			return nil, &ConditionError{fmt.Sprintf("%s takes no part in the net reaction %s", a.Species, c.Net), "name a species of the net reaction"}
		}
	}
	now.LogQ = logQ
	now.Volts = standard - decade(now.Kelvin)*logQ/c.netElectrons
	now.Gibbs = kilojoules(float64(c.Electrons), now.Volts)
	now.Taken = append(now.Taken, "Activities were taken as concentrations in mol/L and pressures in bar; what was not named has 1.")
	return now, nil
}

// logActivity returns the decadic logarithm of the activity of a species. from
// is a sentence where it follows from the pH.
func (t Tables) logActivity(k Conditions, s *chem.Species, kelvin float64, used map[int]bool) (log float64, from string, err error) {
	for i, a := range k.Activities {
		if same(a.Species, s) {
			used[i] = true
			if s.Phase() == chem.Solid || s.Phase() == chem.Liquid {
				return 0, "", &ConditionError{fmt.Sprintf("%s is a pure %s here, whose activity is 1", s, map[chem.Phase]string{chem.Solid: "solid", chem.Liquid: "liquid"}[s.Phase()]), "leave it out"}
			}
			return math.Log10(a.Value), "", nil
		}
	}
	switch {
	case s.Phase() == chem.Solid || s.Phase() == chem.Liquid:
		return 0, "", nil
	case k.PH != nil && s.Same(chem.Hydron):
		return -*k.PH, "", nil
	case k.PH != nil && s.Same(chem.Hydroxide):
		pkw, ok := t.pKw(kelvin)
		if !ok {
			return 0, "", &ConditionError{"the ion product of water is not in the tables", "give the concentration of OH^- instead of a pH"}
		}
		return *k.PH - pkw, fmt.Sprintf("The concentration of OH^- follows from the pH, with pKw = %s.", fixed(pkw, 2)), nil
	}
	return 0, "", nil
}

// pKw returns the ion product of water at a temperature, from the free energy
// at 25 °C and the entropies.
func (t Tables) pKw(kelvin float64) (float64, bool) {
	g, ok := t.ionProduct()
	if !ok {
		return 0, false
	}
	if kelvin != Room {
		water, hydroxide := t.formation(chem.Water), t.formation(chem.Hydroxide)
		if water.S == nil || hydroxide.S == nil {
			return 0, false
		}
		g -= (*hydroxide.S - *water.S) / 1000 * (kelvin - Room)
	}
	return g * 1000 / (Gas * kelvin * math.Ln10), true
}

// warmed returns the standard potential at another temperature: that of the
// tables at 25 °C, changed by the entropy of the net reaction.
func (t Tables) warmed(c *Cell, kelvin float64) (float64, error) {
	s := 0.0
	var missing []string
	for side, x := range c.Net.Terms {
		f := t.formation(x.Species)
		if f == nil || f.S == nil {
			if !x.Species.Same(chem.Hydron) {
				missing = append(missing, x.Species.String()+x.Species.Phase().String())
			}
			continue
		}
		s += float64(side*x.Coefficient.Num()) * *f.S
	}
	if missing != nil {
		return 0, &ConditionError{"another temperature than 25 °C needs entropies, and there is none of " + strings.Join(missing, ", "), "leave the temperature out"}
	}
	return c.Volts + s*(kelvin-Room)/(c.netElectrons*Faraday), nil
}

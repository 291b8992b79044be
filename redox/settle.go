package redox

import (
	"fmt"
	"slices"

	"halves/balance"
	"halves/chem"
)

// parts sorts the species of the skeleton for a medium: those that must be
// used on their side, and those that may move. Water and its ions are the
// medium's where one is given, and may change sides where none is.
func (w *work) parts(m Medium) {
	w.left, w.right, w.free, w.noHelpers = nil, nil, nil, false
	w.typed = map[*chem.Species]int64{}
	place := func(terms []chem.Term, side int64) (rest []*chem.Species) {
		for _, t := range terms {
			s := t.Species
			switch {
			case s.IsElectron():
			case isMedium(s):
				if m == None {
					if s.Same(chem.Hydronium) {
						s = chem.Hydron
						if !slices.ContainsFunc(w.free, chem.Water.Same) {
							w.free = append(w.free, chem.Water)
						}
					}
					i := slices.IndexFunc(w.free, s.Same)
					if i < 0 {
						i = len(w.free)
						w.free = append(w.free, s)
					}
					w.typed[w.free[i]] += side
				}
			case !slices.ContainsFunc(rest, func(o *chem.Species) bool { return same(o, s) && o.Phase() == s.Phase() }):
				rest = append(rest, s)
			}
		}
		return rest
	}
	w.left = place(w.Skeleton.Left, -1)
	w.right = place(w.Skeleton.Right, 1)
	// What stands on both sides alike need not change.
	for i := 0; i < len(w.left); i++ {
		s := w.left[i]
		j := slices.IndexFunc(w.right, func(o *chem.Species) bool { return same(o, s) && o.Phase() == s.Phase() })
		if j < 0 {
			continue
		}
		w.left = slices.Delete(w.left, i, i+1)
		w.right = slices.Delete(w.right, j, j+1)
		w.free = append(w.free, s)
		w.typed[s] = 0
		i--
	}
	if len(w.left)+len(w.right) == 0 {
		// Only water and its ions: each is a species like any other.
		for _, t := range w.Skeleton.Left {
			w.left = append(w.left, t.Species)
		}
		for _, t := range w.Skeleton.Right {
			w.right = append(w.right, t.Species)
		}
		w.free = nil
		w.typed = nil
		w.noHelpers = true
	}
}

// helpers returns what a medium may add.
func (w *work) helpers(m Medium) []*chem.Species {
	if w.noHelpers {
		return nil
	}
	switch m {
	case Acidic:
		return []*chem.Species{chem.Water, chem.Hydron}
	case Basic:
		return []*chem.Species{chem.Water, chem.Hydroxide}
	}
	return nil
}

// settleMedium finds the medium where the question states none: from hydrogen
// or hydroxide ions that were typed, or none where nothing need be added.
func (w *work) settleMedium() error {
	if w.Medium != Unstated {
		w.parts(w.Medium)
		if w.Medium == None {
			return nil
		}
		other := map[Medium]*chem.Species{Acidic: chem.Hydroxide, Basic: chem.Hydron}[w.Medium]
		for _, t := range w.Skeleton.Terms {
			if other != nil && (t.Species.Same(other) || w.Medium == Basic && t.Species.Same(chem.Hydronium)) {
				w.note(NoteMedium, fmt.Sprintf("%s was typed, but the medium is stated as %s: that was taken.", t.Species, w.Medium))
				break
			}
		}
		w.remarkReagents()
		return nil
	}
	acid, base := false, false
	for _, t := range w.Skeleton.Terms {
		acid = acid || t.Species.Same(chem.Hydron) || t.Species.Same(chem.Hydronium)
		base = base || t.Species.Same(chem.Hydroxide)
	}
	switch {
	case acid && !base:
		w.Medium = Acidic
		w.note(NoteMedium, "No medium was named; hydrogen ions stand in the equation, so it was worked in acid.")
		w.parts(Acidic)
		return nil
	case base && !acid:
		w.Medium = Basic
		w.note(NoteMedium, "No medium was named; hydroxide ions stand in the equation, so it was worked in base.")
		w.parts(Basic)
		return nil
	}
	w.parts(None)
	o, err := w.balanceIn(None)
	if err != nil {
		return err
	}
	if o.Answer == nil && o.Cause != nil && w.matters(o) {
		if w.waterSuffices() {
			w.Medium = Neutral
			w.note(NoteMedium, "No medium was named; water alone was missing, so it was added.")
			w.parts(Neutral)
			return nil
		}
		return w.mediumOfReagents()
	}
	w.Medium = None
	return nil
}

// mediumOfReagents takes the medium from an acid or a base among the reactants
// of an equation that lacks water, and says so.
func (w *work) mediumOfReagents() error {
	for _, s := range w.left {
		m := Unstated
		switch {
		case isAcid(s):
			m = Acidic
		case isBase(s):
			m = Basic
		default:
			continue
		}
		w.Medium = m
		w.note(NoteMedium, fmt.Sprintf("No medium was named; %s stands in the equation, so it was worked as %s, and water was added.", s, m))
		w.parts(m)
		return nil
	}
	return &MediumNeededError{Equation: w.Skeleton}
}

// matters reports whether an equation that does not balance by itself would do
// so, alone or as a half, if water and its ions could be added.
func (w *work) matters(o balance.Outcome) bool {
	for _, e := range o.Cause.OneSided {
		if e != chem.O && e != chem.H {
			return false
		}
	}
	defer w.parts(None)
	w.parts(Acidic)
	if in, err := w.balanceIn(Acidic); err == nil && in.Cause == nil {
		return true
	}
	halves, err := w.loneHalves(Acidic)
	if err != nil {
		return false
	}
	for _, c := range halves {
		if c.vector.get(chem.Water) != 0 || c.vector.get(chem.Hydron) != 0 {
			return true
		}
	}
	return false
}

// waterSuffices reports whether an equation of uncharged species lacks nothing
// but water.
func (w *work) waterSuffices() bool {
	for _, s := range slices.Concat(w.left, w.right) {
		if s.Charge() != 0 {
			return false
		}
	}
	o, err := balance.Solve(balance.Problem{Left: w.left, Right: w.right, Free: append(slices.Clone(w.free), chem.Water)})
	return err == nil && o.Answer != nil
}

// remarkReagents tells of an acid or a base in the equation that goes against
// the medium that was stated.
func (w *work) remarkReagents() {
	against := map[Medium]func(*chem.Species) bool{Acidic: isBase, Basic: isAcid}[w.Medium]
	for _, t := range w.Skeleton.Left {
		if s := t.Species; against != nil && !isMedium(s) && against(s) {
			w.note(NoteMedium, fmt.Sprintf("%s stands in the equation, but the medium is stated as %s: the formulas were kept as they stand.", s, w.Medium))
			return
		}
	}
}

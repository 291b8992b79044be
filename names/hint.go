package names

import "strings"

// mixtures are names of everyday life that are no species, or of which first-year
// courses mean a simpler one, with what to write. Common practice, no source.
var mixtures = map[string]string{
	"rust":         "rust is hydrated iron(III) oxide: write Fe2O3, or another formula",
	"vinegar":      "vinegar is dilute acetic acid: write CH3COOH",
	"aquaregia":    "aqua regia is a mixture: write HCl and HNO3",
	"brine":        "brine is sodium chloride in water: write NaCl",
	"watergas":     "water gas is a mixture: write CO and H2",
	"naturalgas":   "natural gas is a mixture: write CH4, its chief part",
	"sodalime":     "soda lime is a mixture: write NaOH, or Ca(OH)2",
	"air":          "air is a mixture: write O2, or N2",
	"bakingpowder": "baking powder is a mixture: write NaHCO3, its chief part",
	"sodawater":    "soda water is carbon dioxide in water: write CO2",
	"ammoniawater": "ammonia water is ammonia in water: write NH3",
	"oleum":        "oleum is a mixture of sulfuric acid and sulfur trioxide: write H2S2O7, or H2SO4 and SO3",
	"salt":         "several salts may be meant: write NaCl for table salt",
	"soda":         "several substances may be meant: write Na2CO3, NaHCO3 or NaOH",
	"bauxite":      "bauxite is an ore: write Al2O3, its chief part",
	"steel":        "steel is a mixture: write Fe, its chief part",
	"brass":        "brass is a mixture: write Cu, or Zn",
	"bronze":       "bronze is a mixture: write Cu, or Sn",
	"gasoline":     "gasoline is a mixture: write C8H18 for octane",
	"petrol":       "petrol is a mixture: write C8H18 for octane",
}

// hint says what is known of a name that is not read, "" for nothing.
func hint(name string) string {
	if len(name) > maxName {
		return ""
	}
	base, kind := cutKind(plainText(name))
	key := squash(base)
	if kind == substance {
		if text, ok := mixtures[key]; ok {
			return text
		}
	}
	return otherStates(base, key)
}

// otherStates tells the Stock names that there are with the stem of one that
// there is not: of chlorate(VI), chlorate(I) and three more.
func otherStates(plain, key string) string {
	base, number := cutNumber(key)
	stem, ok := strings.CutSuffix(base, "ate")
	if !ok || !number.given || number.charge || len(stem) < 3 {
		return ""
	}
	r := reader{index: names(), words: words()}
	if r.words.byStem[stem] == 0 {
		return ""
	}
	shown := sulfAs(base, strings.Contains(plain, "sulph"))
	var all []string
	for n := int64(1); n < 9; n++ {
		if state := Roman(n); r.anion(base+"("+strings.ToLower(state)+")") != nil {
			all = append(all, shown+"("+state+")")
		}
	}
	switch len(all) {
	case 0:
		return ""
	case 1:
		return "there is " + all[0]
	}
	return "there are " + strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

// meantAnions names the ions that may be meant by names that are like them in
// sense rather than in letters: chlorine ion, biphosphate.
func meantAnions(plain, key string, kind kind) []string {
	if i := strings.Index(plain, "biphosphate"); i >= 0 {
		cation, rest := plain[:i], plain[i+len("biphosphate"):]
		if cation == "" && rest == "" {
			rest = " ion"
		}
		return []string{cation + "dihydrogenphosphate" + rest, cation + "hydrogenphosphate" + rest}
	}
	if kind != ion && kind != anion {
		return nil
	}
	v := words()
	if z, rest := v.element(key); z != 0 && rest == "" && v.of[z].ide != "" {
		if _, ok := names().anions[v.of[z].ide]; ok {
			return []string{sulfAs(v.of[z].ide, strings.Contains(plain, "sulph")) + " ion"}
		}
	}
	return nil
}

package drawing

// A Role says what a colour is for.
type Role uint8

// The roles. Text may stand in Ink, Quiet, AccentA and AccentB on Ground, FillA
// and FillB; lines that carry meaning in the same and in Faint on Ground alone.
const (
	None    Role = iota // not painted
	Ground              // behind everything
	Ink                 // letters and axes
	Quiet               // what is said in passing
	Faint               // lines that only help the eye
	AccentA             // what the picture is about
	AccentB             // what stands against it
	FillA               // an area
	FillB               // an area of another kind
	Shade               // hatching
	roles
)

// names of the roles as they stand in classes and custom properties.
var names = [roles]string{"none", "ground", "ink", "quiet", "faint", "accent-a", "accent-b", "fill-a", "fill-b", "shade"}

// A Theme gives each role a colour, "#" and six hexadecimal digits. Blue and
// brown differ for readers who do not tell red from green, and in lightness from
// the fills; no meaning hangs on them alone.
type Theme [roles]string

// Light, Dark and Paper are the themes of a picture. Ground and ink of the first
// two are those of the pages of package document.
func Light() Theme {
	return Theme{Ground: "#fdfcf9", Ink: "#1c1c1a", Quiet: "#55534e", Faint: "#85827a",
		AccentA: "#1d4f8f", AccentB: "#8a4300", FillA: "#e4edf7", FillB: "#f3ead8", Shade: "#cdbf9f"}
}

// Dark is the theme for a dark screen.
func Dark() Theme {
	return Theme{Ground: "#15171a", Ink: "#ebe8e1", Quiet: "#b7b3a9", Faint: "#7d7f84",
		AccentA: "#93c3ff", AccentB: "#f2b36b", FillA: "#1d2a3a", FillB: "#322a1d", Shade: "#564a35"}
}

// Paper is the theme for print: black on white, fills that a grey printer shows.
func Paper() Theme {
	return Theme{Ground: "#ffffff", Ink: "#000000", Quiet: "#000000", Faint: "#777777",
		AccentA: "#0b3a75", AccentB: "#6b3400", FillA: "#e9eef5", FillB: "#f4f0e6", Shade: "#b9b3a4"}
}

// Style is the style sheet of every picture (CSS), for a page that holds
// several and writes them with Options.Bare.
func Style() string { return style }

// Colours are custom properties, --p-ink and so on, which a page may set by a
// rule of more weight. What cannot read them (many programs that only draw SVG)
// uses the attributes of the shapes, which are those of Light.
var style = makeStyle()

func makeStyle() string {
	b := []byte(".halves-picture{")
	set := func(t Theme) {
		for r := Ground; r < roles; r++ {
			b = append(b, "--p-"+names[r]+":"+t[r]+";"...)
		}
	}
	set(Light())
	b = append(b, "max-width:100%;height:auto;font-family:"+family+";font-variant-numeric:lining-nums}\n"...)
	for r := Ground; r < roles; r++ {
		b = append(b, ".halves-picture .f-"+names[r]+"{fill:var(--p-"+names[r]+")}.halves-picture .s-"+names[r]+"{stroke:var(--p-"+names[r]+")}\n"...)
	}
	b = append(b, ".halves-picture text{white-space:pre}\n@media (prefers-color-scheme:dark){.halves-picture{"...)
	set(Dark())
	b = append(b, "}}\n@media print{.halves-picture{"...)
	set(Paper())
	b = append(b, "break-inside:avoid;print-color-adjust:exact;-webkit-print-color-adjust:exact}}\n@media (forced-colors:active){.halves-picture{forced-color-adjust:none;"...)
	for r := Ground; r < roles; r++ {
		colour := "CanvasText"
		switch r {
		case Ground, FillA, FillB:
			colour = "Canvas"
		case Shade, Faint:
			colour = "GrayText"
		}
		b = append(b, "--p-"+names[r]+":"+colour+";"...)
	}
	return string(append(b, "}}\n"...))
}

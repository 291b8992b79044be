package web

import (
	"context"
	"math"
	"net/http"
	"slices"
	"strings"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

type couplesIn struct {
	Text  string  `query:"q" maxLength:"200" doc:"An element, a formula, a name, or words of one; all couples without it." example:"permanganate"`
	Least float64 `query:"above" default:"-10" minimum:"-10" maximum:"10" doc:"At least so many volts."`
	Most  float64 `query:"below" default:"10" minimum:"-10" maximum:"10" doc:"At most so many volts."`
}

type couplesOut struct {
	Body struct {
		Couples []coupleJSON `json:"couples" nullable:"false" doc:"The highest potential first."`
	}
}

// A coupleJSON is a row of the table of potentials as the command line writes it.
type coupleJSON struct {
	ID        string  `json:"id" minLength:"1"`
	Half      string  `json:"halfReaction" doc:"As a reduction, with phases."`
	E0        float64 `json:"E0" doc:"V against the standard hydrogen electrode, 25 °C."`
	Medium    string  `json:"medium" enum:"acidic,basic,any"`
	Source    string  `json:"source" minLength:"1"`
	Memory    bool    `json:"memory" doc:"From memory of its source."`
	Preferred bool    `json:"preferred" doc:"Of the rows of one half-reaction, that which is used."`
	Own       bool    `json:"own" doc:"Of a table of the user's own."`
	Slow      string  `json:"slow,omitempty" doc:"Why it is slow in practice."`
	Note      string  `json:"note,omitempty"`
}

type potentialIn struct {
	Half string `query:"half" required:"true" minLength:"1" maxLength:"4096" doc:"A half-reaction, balanced, or only what is oxidized and what is reduced; with phases where they matter." example:"MnO4^- -> Mn^2+"`
}

type potentialOut struct{ Body potentialJSON }

// A potentialJSON is a potential as the command line writes it, with its sources
// in full.
type potentialJSON struct {
	Half      string   `json:"halfReaction" doc:"As a reduction, with phases."`
	E0        float64  `json:"E0" doc:"V against the standard hydrogen electrode, 25 °C."`
	From      string   `json:"from" enum:"table,formation,couples"`
	Rows      []string `json:"rows" nullable:"false" doc:"Ids of couples, or formulas with phases, that were used."`
	Sources   []string `json:"sources" nullable:"false" doc:"Keys of the table of sources."`
	Memory    bool     `json:"memory" doc:"A figure from memory of its source is among them."`
	Own       bool     `json:"own" doc:"A figure of a table of the user's own is among them."`
	Says      string   `json:"says" minLength:"1"`
	Slow      string   `json:"slow,omitempty"`
	Other     *float64 `json:"other,omitempty" doc:"E0 by another way, where it differs by more than 30 mV."`
	Citations []string `json:"citations" nullable:"false" doc:"The sources in full."`
}

// couples adds the acts on potentials.
func (a *api) couples() {
	d := couplesDesk{Server: a.desk, texts: sync.OnceValue(a.desk.coupleTexts)}
	act(a, huma.Operation{OperationID: "find-couples", Method: http.MethodGet, Path: "/couples", Tags: []string{"couples"}, Summary: "Find couples of the table of potentials"},
		func(_ context.Context, in *couplesIn) (*couplesOut, error) {
			all := slices.Clone(d.o.Tables.Couples.All())
			if text := strings.TrimSpace(in.Text); text != "" {
				var err error
				if all, _, err = d.holding(&couplesPage{}, text, redox.Conventions{}); err != nil {
					return nil, err
				}
			}
			all = slices.DeleteFunc(all, func(c *reference.Couple) bool { return !(c.Volts >= in.Least && c.Volts <= in.Most) })
			slices.SortStableFunc(all, func(x, y *reference.Couple) int {
				switch {
				case x.Volts > y.Volts:
					return -1
				case x.Volts < y.Volts:
					return 1
				}
				return 0
			})
			out := &couplesOut{}
			out.Body.Couples = []coupleJSON{}
			for _, c := range all {
				out.Body.Couples = append(out.Body.Couples, coupleJSON{c.ID, plainHalf(c.Half), c.Volts, c.Medium, c.Source, c.Confidence == "memory", c.Preferred, c.Own, c.Slow, c.Note})
			}
			return out, nil
		})
	act(a, huma.Operation{OperationID: "get-potential", Method: http.MethodGet, Path: "/potential", Tags: []string{"couples"}, Summary: "Give the standard potential of a half-reaction, with its sources"},
		func(_ context.Context, in *potentialIn) (*potentialOut, error) {
			half, err := d.o.Tables.Read(in.Half)
			if err != nil {
				return nil, err
			}
			p, err := d.o.Tables.Of(half)
			if err != nil {
				return nil, err
			}
			return &potentialOut{newPotentialJSON(p)}, nil
		})
}

func newPotentialJSON(p energetics.Potential) potentialJSON {
	j := potentialJSON{Half: plainHalf(p.Half), E0: tenthMillivolts(p.Volts), From: string(p.From), Rows: append([]string{}, p.Rows...), Sources: append([]string{}, p.Sources...),
		Memory: p.Memory, Own: p.Own, Says: p.Says, Slow: p.Slow, Citations: []string{}}
	if p.Other != nil {
		v := tenthMillivolts(p.Other.Volts)
		j.Other = &v
	}
	for _, key := range p.Sources {
		if s, ok := reference.SourceOf(key); ok {
			key = s.Citation
		}
		j.Citations = append(j.Citations, key)
	}
	return j
}

// tenthMillivolts rounds volts to four decimals.
func tenthMillivolts(v float64) float64 { return math.Round(v*1e4) / 1e4 }

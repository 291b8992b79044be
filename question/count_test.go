package question

import (
	"fmt"
	"halves/energetics"
	"testing"
	"time"
)

func TestCount(t *testing.T) {
	p := NewPool(energetics.Shipped())
	for _, v := range []struct {
		n, v int
		sp   string
	}{{10, 1, Taught}, {20, 1, Taught}, {10, 2, Taught}, {20, 2, Taught}, {10, 4, Taught}, {20, 4, Taught}, {20, 4, Any}, {20, 8, Any}, {10, 8, Any}, {10, 8, Taught}} {
		w := NewWish()
		w.Questions, w.Versions, w.Species = v.n, v.v, v.sp
		for seed := range uint64(2) {
			w.Seed = seed
			a := time.Now()
			s, err := Make(w, p, nil)
			fmt.Println(v, time.Since(a), err)
			if err == nil && (v.v == 4 || v.n == 10) && seed == 0 {
				for _, x := range s.Versions {
					fmt.Print(x.Letter, x.Code, x.Difficulty(), " ")
				}
				fmt.Println()
				if v.v == 1 || v.sp == Taught {
					for _, x := range s.Versions[0].Items {
						fmt.Println(x.Number, x.Question.Difficulty, x.Question.Text, x.Question.Medium, x.Question.Features)
					}
				}
			}
		}
	}
}

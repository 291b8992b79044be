package energetics

import "math"

// Constants of CODATA 2018 (E. Tiesinga et al., Rev. Mod. Phys. 93, 025010,
// 2021); they follow from exact constants of the SI and stand in CODATA 2022
// unchanged.
const (
	Faraday = 96485.33212   // C/mol
	Gas     = 8.314462618   // J/(mol K)
	Kelvin  = 273.15        // K at 0 °C
	Room    = 25.0 + Kelvin // K, of all tables
)

// kilojoules returns the free energy in kJ of n electrons at a potential.
func kilojoules(n, volts float64) float64 { return -n * Faraday * volts / 1000 }

// volts returns the potential of n electrons with a free energy in kJ.
func volts(n, kilojoules float64) float64 { return -kilojoules * 1000 / (n * Faraday) }

// decade returns R T ln 10 / F in volts: 0.05916 at 25 °C.
func decade(kelvin float64) float64 { return Gas * kelvin * math.Ln10 / Faraday }

package mapping_test

import (
	"fmt"

	"bellout/mapping"
)

func ExampleParseColours() {
	for _, typed := range []string{"blue/white", "white on blue", "wh bu", "B"} {
		base, tracer, err := mapping.ParseColours(typed)
		if err != nil {
			fmt.Println(err)
			continue
		}
		e := mapping.End{Base: base, Tracer: tracer}
		fmt.Println(e.Colours(), e.IEC())
	}
	// Output:
	// BU/WH BUWH
	// BU/WH BUWH
	// WH/BU BUWH
	// "B" could be black (BK), brown (BN) or blue (BU): which is it?
}

func ExampleCoreList() {
	fmt.Println(mapping.CoreList("GNYE", "BU", "BK", "BN", "BK"))
	// Output: BK+BK+BN+BU+GNYE
}

func ExampleClean() {
	fmt.Printf("%q\n", mapping.Clean("  left\tpod \x1b[31mred\x1b[0m\u202e ", mapping.MaxName))
	// Output: "left pod red"
}

func ExampleMap_Nets() {
	pod := mapping.Pod{
		Ends:     []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []mapping.Switch{{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"}},
	}
	at := func(q mapping.PositionID) []mapping.Condition {
		return []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{q}}}}
	}
	m := mapping.Map{Links: []mapping.Link{{A: "1", B: "2", When: at("main")}, {A: "1", B: "3", When: at("low")}}}
	fmt.Println(m.Nets(pod, pod.Rest()))
	fmt.Println(m.Nets(pod, mapping.Setting{"dip": "main"}))
	// Output:
	// [[1 3] [2]]
	// [[1 2] [3]]
}

package plan

import (
	"fmt"

	"bellout/mapping/strict"
)

// checkMapText refuses what would be lost in silence.
func checkMapText(text []byte) error {
	condition := &strict.Shape{What: "a condition", Any: true} // its keys are switches
	link := &strict.Shape{What: "a link", Keys: []string{"between", "grade", "when"}, In: map[string]*strict.Shape{"when": condition}}
	links := &strict.Shape{What: "the map", Keys: []string{"links", "unresolved"}, In: map[string]*strict.Shape{"links": link, "unresolved": link}}
	file := &strict.Shape{What: "the map file", Keys: []string{"confidence", "map", "readings"}, In: map[string]*strict.Shape{"map": links}}
	return strict.Check(text, file, strict.Words{
		Nested: 10, Deep: "this is no map of a pod",
		Follow: "something follows the end of the map: keep one map a file",
		Plain: func(_, key string) string {
			return fmt.Sprintf("an object with %q stands where a plain value is wanted: give the last line that bellout rig wrote", key)
		},
		Broken: func(err error, offset int64) error {
			return fmt.Errorf("line %d: the map cannot be read (%w): give the last line that bellout rig wrote", strict.Line(text, offset), err)
		},
	})
}

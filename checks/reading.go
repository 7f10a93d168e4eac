package checks

import (
	"context"
	"slices"

	"yearmark/schema"
)

// RunReading makes only the checks of what the reader found: it is how those who
// follow edits learn at once whether every record can be read.
func RunReading(ctx context.Context, in Input) (Report, error) {
	var list []Check
	for _, c := range registry {
		if slices.Contains(schema.ReadingChecks, c.Name) {
			list = append(list, c)
		}
	}
	return run(ctx, in, list)
}

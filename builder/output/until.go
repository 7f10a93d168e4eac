package output

import (
	"context"
	"io"
)

// Until is a writer that fails once ctx has ended.
func Until(ctx context.Context, w io.Writer) io.Writer { return until{ctx, w} }

type until struct {
	ctx context.Context
	w   io.Writer
}

func (u until) Write(b []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.w.Write(b)
}

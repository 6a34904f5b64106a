package search

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

func TestProto(t *testing.T) {
	name := os.Getenv("STONE")
	if name == "" {
		name = "one-crack"
	}
	doc, err := stonefile.Read("../../testdata/stones/"+name+".stone", presets.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), 60*time.Second)
	defer stop()
	debug = true
	p, err := Run(ctx, doc.Stone, Options{Level: os.Getenv("LEVEL") != ""}, nil)
	fmt.Println(err, p.Stopped, p.Elapsed, len(p.Fits))
	for i, f := range p.Fits {
		if i < 25 {
			fmt.Println(f.Solid.Outline.Shape, f.Solid.Outline.Length, f.Solid.Outline.Width, f.DomeStyle, f.BackStyle, f.Face, f.Volume, f.Clearance, f.Proved, f.Pose)
		}
	}
}

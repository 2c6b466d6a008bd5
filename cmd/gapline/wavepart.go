package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"gapline/cabinet/outside"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/openfile"
	"gapline/internal/part"
	study "gapline/internal/study/wave"
)

// waveCommand and pointsFormat mark the part files of the outside in space.
const (
	waveCommand  = "wave"
	pointsFormat = "points"
)

// pointLines are the letters of the lines of such a part file, after that of its task: of a
// frequency's solution of each of a run's.
var pointLines = [...]byte{study.AsGiven: 'W', study.WithoutInsert: 'B', study.OneBox: 'A'}

// longestPoint bounds the lines of such a part file, bytes.
const longestPoint = 1 << 26

// frontTask is all that merge needs to show a run: the design and what was typed.
type frontTask struct {
	Name        string    `json:"name"`
	Text        string    `json:"text"` // of the design file
	Settings    []string  `json:"settings"`
	Drive       string    `json:"drive"`
	Boxes       int       `json:"boxes"`
	OpenJoints  bool      `json:"open_joints"`
	Floor       string    `json:"floor"`
	From        string    `json:"from"`
	To          string    `json:"to"`
	Count       int       `json:"count"`
	View        string    `json:"view"`
	At          []string  `json:"at"`
	Frequencies []float64 `json:"frequencies_hz"` // of the whole run
}

// task is the part file's line of a job on a design file.
func (j *waveJob) task(file *designfile.File) frontTask {
	f := j.typed
	return frontTask{
		Name: file.Name, Text: file.Text, Settings: j.app.settings, Drive: f.drive, Boxes: f.boxes, OpenJoints: f.openJoints, Floor: f.floor,
		From: f.from, To: f.to, Count: f.count, View: f.view, At: f.at, Frequencies: j.frequencies,
	}
}

// job is the command line of a task.
func (t *frontTask) job(a *app) (*waveJob, error) {
	f := waveFlags{
		of: "front", woofers: "rigid", exit: "matched", drive: t.Drive, boxes: t.Boxes, openJoints: t.OpenJoints, floor: t.Floor,
		from: t.From, to: t.To, count: t.Count, view: t.View, at: t.At,
	}
	j, err := f.parse(a)
	if err == nil && !slices.Equal(j.frequencies, t.Frequencies) {
		err = errors.New("the frequencies are not those of this run")
	}
	return j, err
}

// parsePart settles whether a part of the run is asked for.
func (j *waveJob) parsePart(f *waveFlags) error {
	p, err := j.app.parsePart(f.part)
	switch {
	case err != nil || p == nil:
		return err
	case f.of != "front":
		return errors.New("--part goes with --of front")
	case j.app.json || j.app.csv:
		return errors.New("a part holds no results yet: give --json and --csv to gapline merge")
	}
	j.part = p
	return nil
}

// share says which frequencies a part solves. The highest take longest.
func share(p part.Part, frequencies []float64) func(i int) bool {
	return func(i int) bool { return p.Deals(len(frequencies) - 1 - i) }
}

// shared are the places of a part's frequencies.
func shared(p part.Part, frequencies []float64) (out []int) {
	mine := share(p, frequencies)
	for i := range frequencies {
		if mine(i) {
			out = append(out, i)
		}
	}
	return out
}

// writePart solves a part of the run and writes it.
func (j *waveJob) writePart(ctx context.Context, file *designfile.File, o study.FrontOptions) error {
	line, err := json.Marshal(j.task(file))
	if err != nil {
		return err
	}
	line = cleantext.JSON(line)
	w, err := part.NewWriter(j.app.out, part.Head{
		Command: waveCommand, Part: *j.part, Format: pointsFormat, Designs: len(j.frequencies),
		Run: runID(file, pointsFormat, "", []string{string(line)}),
	})
	if err != nil {
		return err
	}
	if err := w.Line(taskLine, line); err != nil {
		return err
	}
	o.Share = share(*j.part, j.frequencies)
	points, err := study.FrontPart(ctx, &file.Design, o)
	if err != nil {
		return err // without its foot the part is incomplete
	}
	for of, letter := range pointLines {
		if err := writePoints(w, letter, points[of]); err != nil {
			return err
		}
	}
	return w.End(part.Foot{})
}

func writePoints(w *part.Writer, letter byte, points []outside.Point) error {
	for i := range points {
		line, err := study.EncodeFrontPoint(&points[i])
		if err == nil {
			err = w.Line(letter, line)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// mergeFront joins the parts of a run and shows it.
func mergeFront(ctx context.Context, a *app, files []*part.File) error {
	if len(a.settings) > 0 {
		return usageError{errors.New("--set is for the run of wave: its parts are of the design as it was")}
	}
	parts, err := readFrontParts(files)
	if err != nil {
		return usageError{err}
	}
	t := &parts.task
	j, err := t.job(a)
	if err != nil {
		return usageError{fmt.Errorf("%s: %w", files[0].Name, err)}
	}
	file, err := a.fitted(designfile.Parse(t.Name, []byte(t.Text), t.Settings))
	if err != nil {
		return err
	}
	if runID(file, pointsFormat, "", []string{parts.line}) != files[0].Head.Run {
		return usageError{fmt.Errorf("%s: the design reads otherwise here than where the parts were solved: look at the driver file that it names", files[0].Name)}
	}
	points, err := parts.points(files)
	if err != nil {
		return usageError{err}
	}
	if err := a.refuseMisfits("solution in space"); err != nil {
		return err
	}
	o := j.front
	o.Frequencies = j.frequencies
	st, err := study.JoinFront(ctx, &file.Design, o, points)
	switch {
	case errors.Is(err, outside.ErrForeign):
		return usageError{err}
	case err != nil:
		return waveError(err, file)
	}
	stored := stands(ctx, t)
	if !stored && st.Stands() {
		a.note("the run is not stored for size: %s does not stand here as it was solved", t.Name)
	}
	return j.finish(ctx, file, st, stored)
}

// stands reports whether the design file of a task is where it was, as it was.
func stands(ctx context.Context, t *frontTask) bool {
	text, err := openfile.ReadAll(ctx, t.Name, "a design file", designfile.MaxSize)
	return err == nil && string(text) == t.Text
}

// frontParts are what the parts of a run hold.
type frontParts struct {
	task  frontTask
	line  string              // of the task
	found []study.FrontPoints // of each file
}

// readFrontParts reads the task, which is the same in all of them, and what each solved.
func readFrontParts(files []*part.File) (*frontParts, error) {
	out := &frontParts{found: make([]study.FrontPoints, len(files))}
	for i, f := range files {
		tasks := 0
		err := f.Each(func(letter byte, from io.Reader) error {
			text, err := io.ReadAll(io.LimitReader(from, longestPoint))
			if err != nil {
				return err
			}
			if letter == taskLine {
				tasks++
				return out.take(text, i == 0)
			}
			p, err := study.DecodeFrontPoint(text)
			if err != nil {
				return fmt.Errorf("a line cannot be read: %w", err)
			}
			of := slices.Index(pointLines[:], letter)
			if of < 0 {
				return fmt.Errorf("a line begins with %q, which none of such a file does", letter)
			}
			out.found[i][of] = append(out.found[i][of], p)
			return nil
		})
		if err == nil && tasks != 1 {
			err = fmt.Errorf("%s: says %d times what was to be solved, once is needed", f.Name, tasks)
		}
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// take reads the task of the first part, and compares that of another.
func (p *frontParts) take(text []byte, first bool) error {
	if !first {
		if string(text) != p.line {
			return errors.New("is a part of a different run")
		}
		return nil
	}
	p.line = string(text)
	if err := json.Unmarshal(text, &p.task); err != nil {
		return fmt.Errorf("a line cannot be read: %w", err)
	}
	return nil
}

// points puts what the parts solved in the order of the frequencies. Each part must hold its
// share of them.
func (p *frontParts) points(files []*part.File) (*study.FrontPoints, error) {
	frequencies := p.task.Frequencies
	out := new(study.FrontPoints)
	for of := range out {
		solved := of == int(study.AsGiven)
		for i := range p.found {
			solved = solved || len(p.found[i][of]) > 0
		}
		if solved {
			out[of] = make([]outside.Point, len(frequencies))
		}
	}
	for i, f := range files {
		places := shared(f.Head.Part, frequencies)
		for k, to := range out {
			if to == nil {
				continue
			}
			found := p.found[i][k]
			fits := len(found) == len(places)
			for n := 0; fits && n < len(places); n++ {
				to[places[n]] = found[n]
				fits = found[n].Frequency == frequencies[places[n]]
			}
			if !fits {
				return nil, fmt.Errorf("%s: does not hold the frequencies of part %v: run this part again", f.Name, f.Head.Part)
			}
		}
	}
	return out, nil
}

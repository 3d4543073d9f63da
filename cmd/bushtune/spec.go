package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/sheet"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
)

// The forms of a sheet.
var sheetFormats = []string{"md", "csv", "json"}

func specCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "spec",
		Usage:     "write one page for each bush from which a supplier can quote",
		UsageText: "bushtune spec [FILE] [OPTIONS]      FILE may be - for standard input",
		Description: "A page holds orientation, rates with their tolerance, load over deflection, dynamic points, load\n" +
			"and travel in every case, and how far each rate may be off until a [want] that holds now is lost.\n" +
			"The input is never overwritten. " +
			meanings(anAnswer, notWritten, badAxle),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "bush", Usage: "only the page of bush `NAME`"},
			&cli.StringFlag{Name: "class", Value: rubber.ClassNames[rubber.D2], Usage: "tolerance `CLASS` of load over deflection (RMA): " + strings.Join(rubber.ClassNames, ", ")},
			&cli.StringFlag{Name: "mould", Value: rubber.MouldClassNames[rubber.M3], Usage: "tolerance `CLASS` of dimensions (ISO 3302-1): " + strings.Join(rubber.MouldClassNames, ", ")},
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: sheetFormats[0], Usage: "`FORM` of the pages: " + strings.Join(sheetFormats, ", ")},
			outFlag("write the pages to `FILE` instead of the output"),
			forceFlag(), demoFlag(),
		},
		Action: func(c *cli.Context) error { return spec(c, s) },
	}
}

// spec writes the sheets of an axle's bushes.
func spec(c *cli.Context, s streams) error {
	class, err := oneOf(c, "class", rubber.ClassNames)
	if err != nil {
		return err
	}
	mould, err := oneOf(c, "mould", rubber.MouldClassNames)
	if err != nil {
		return err
	}
	form, err := oneOf(c, "format", sheetFormats)
	if err != nil {
		return err
	}
	out, err := outPath(c)
	if err != nil {
		return err
	}
	in, err := oneAxle(c, s)
	if err != nil {
		return err
	}
	pages, err := pagesOf(c, s, in, rubber.Class(class), rubber.MouldClass(mould))
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := writePages(&text, sheetFormats[form], pages); err != nil {
		return err
	}
	if form != 0 { // a page says it itself
		fmt.Fprintln(s.err, show.Caution)
	}
	if out != "" {
		return writeFile(out, text.Bytes(), c.Bool("force"), in.inputs...)
	}
	_, err = printable{s.out}.Write(text.Bytes())
	return err
}

// oneOf is the place of an option's value among the words that it takes.
func oneOf(c *cli.Context, option string, words []string) (int, error) {
	for i, word := range words {
		if strings.EqualFold(word, c.String(option)) {
			return i, nil
		}
	}
	return 0, &usageError{c.Command.Name, fmt.Sprintf("--%s takes %s, not %q", option, strings.Join(words, ", "), c.String(option))}
}

// pagesOf makes the pages that are asked for.
func pagesOf(c *cli.Context, s streams, in *input, class rubber.Class, mould rubber.MouldClass) (sheet.Pages, error) {
	study, err := tuning.Study(in.File)
	if err != nil {
		return nil, err
	}
	asked, err := tuning.Ask(study, in.Wants)
	if err != nil {
		return nil, err
	}
	all, without, err := sheet.Sheets(c.Context, &sheet.Axle{Title: in.Title, Source: in.source, File: in.File, Study: study, Asked: asked, Class: class, Mould: mould})
	if err != nil {
		return nil, err
	}
	for _, label := range without {
		fmt.Fprintf(s.err, "%s: given by a full matrix, which has no rates of its own; no page\n", label)
	}
	if name := strings.TrimPrefix(c.String("bush"), "bush."); name != "" {
		all, err = named(all, name)
		if err != nil {
			return nil, &usageError{c.Command.Name, "--bush: " + err.Error()}
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s: no bush to write a page for", in.Title)
	}
	return all, nil
}

// named finds the pages of one bush: two where its sides differ.
func named(all []*sheet.Sheet, name string) (found []*sheet.Sheet, err error) {
	var known []string
	for _, s := range all {
		if s.Name() == name || strings.HasPrefix(s.Name(), name+".") {
			found = append(found, s)
		}
		known = append(known, s.Name())
	}
	if found == nil {
		return nil, fmt.Errorf("there is no bush %q; %s", name, hint(name, known))
	}
	return found, nil
}

// writePages writes pages in a form.
func writePages(w io.Writer, format string, pages sheet.Pages) error {
	switch format {
	case "csv":
		return pages.Rows().CSV(w)
	case "json":
		return pages.Rows().JSON(w)
	}
	return pages.Markdown(w)
}

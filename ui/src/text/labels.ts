// The words of the screen that prints labels.
import type { LabelFile } from "../api/types";

export const labelWords = {
  open: "Print labels",
  title: "Labels",
  whose: "Whose labels",
  site: "All instruments of a site",
  tag: "Or one instrument, by its tag",
  tagHelp: "Left empty, all of the site are printed.",
  how: "How they are printed",
  host: "The utility's own host, which the codes name",
  sheet: "Sheet",
  first: "First free label on the sheet, row by row",
  printer: "Printer, dots an inch",
  distance: "Read from, mm",
  preview: "What will be printed",
  sheetShown: "The first sheet, with the labels that are printed filled in",
  saved: "Saved on this phone:",
} satisfies Record<string, string>;

export const labelFiles: Record<LabelFile, string> = {
  pdf: "Save the sheets (PDF)",
  svg: "Save as a drawing (SVG)",
  png: "Save as a picture (PNG)",
};

//! One label as SVG: the same ink as on paper, in dots, with its size in millimetres.

use super::{Mm, Plate, Shape};

/// White around a label that stands alone, in modules.
const AROUND: usize = 1;

impl Plate {
    /// Returns the label as SVG.
    ///
    /// Without a font and without a line of script: rectangles alone, so that every viewer shows the same.
    #[must_use]
    pub fn svg(&self) -> String {
        let (width, height) = self.alone();
        let mm = |dots| {
            let Mm(length) = self.dpi().length(dots);
            format!("{length:.3}mm")
        };
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {width} {height}\">\
             <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/><path d=\"{}\"/></svg>",
            mm(width),
            mm(height),
            self.path(),
        )
    }

    /// Returns its ink as one path, in dots, for a box of [`Plate::alone`].
    #[must_use]
    pub fn path(&self) -> String {
        let around = self.around();
        let mut path = String::new();
        for shape in self.shapes() {
            match shape.moved(around, around) {
                Shape::Block { x, y, width, height } => {
                    path.push_str(&format!("M{x} {y}h{width}v{height}h-{width}z"));
                }
                Shape::Corner { x, y, side } => path.push_str(&format!("M{x} {y}v-{side}l-{side} {side}z")),
            }
        }
        path
    }

    /// Returns width and height in dots of a label that stands alone, with white around it.
    #[must_use]
    pub fn alone(&self) -> (usize, usize) {
        let (width, height) = self.size();
        (width + 2 * self.around(), height + 2 * self.around())
    }

    pub(super) fn around(&self) -> usize {
        let Mm(module) = self.module();
        self.dpi().nearest(Mm(module * 2.0)).max(AROUND)
    }
}

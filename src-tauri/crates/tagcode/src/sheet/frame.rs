//! The frame around a code: it tells a person that the code holds an identification link.
//!
//! In the manner of IEC 61406-1:2022, requirement 2D-10: a line around the quiet zone, its lower right corner filled.
//! The standard's text was not at hand. What is taken here stands in public descriptions of it: a generator of such codes
//! by members of its committee, whose settings give the line as 1 module, the quiet zone as at least 4 and the
//! sides of the filled corner as 6 within the line; and the table of sizes made with it, in which a label is 10 modules
//! wider than its code. Both together leave no room outside the quiet zone: the filled corner lies over the corner of the
//! zone where the code has no mark of its own. Beside the code's last two rows and columns it comes as near as two
//! modules; everywhere else four stay white.

use super::Shape;
use crate::Code;
use crate::draw::QUIET;

/// Width of the line, in modules.
const LINE: usize = 1;
/// The two sides of the filled corner, from the inner edge of the line on, in modules.
const CORNER: usize = 6;
/// From the frame's outer edge to the code, in modules.
const MARGIN: usize = LINE + QUIET;

/// A code in its frame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Framed {
    code: Code,
}

impl Framed {
    /// Returns a code in its frame.
    #[must_use]
    pub fn of(code: Code) -> Framed {
        Framed { code }
    }

    /// Returns the code.
    #[must_use]
    pub fn code(&self) -> &Code {
        &self.code
    }

    /// Returns how many modules the frame's outer side has.
    #[must_use]
    pub fn side(&self) -> usize {
        self.code.side() + 2 * MARGIN
    }

    /// Returns all its ink, one module so many dots wide.
    #[must_use]
    pub fn shapes(&self, module: usize) -> Vec<Shape> {
        let mut shapes = self.frame(module);
        shapes.extend(self.modules(module));
        shapes
    }

    /// Four lines that do not overlap, and the filled corner within them.
    fn frame(&self, module: usize) -> Vec<Shape> {
        let (side, line) = (self.side() * module, LINE * module);
        let (inner, far) = (side - 2 * line, side - line);
        let block = |x, y, width, height| Shape::Block { x, y, width, height };
        vec![
            block(0, 0, side, line),
            block(0, far, side, line),
            block(0, line, line, inner),
            block(far, line, line, inner),
            Shape::Corner { x: far, y: far, side: CORNER * module },
        ]
    }

    /// Dark modules, those beside each other as one block.
    fn modules(&self, module: usize) -> Vec<Shape> {
        let side = self.code.side();
        let mut blocks = Vec::new();
        for row in 0..side {
            let mut column = 0;
            while column < side {
                let run = (column..side).take_while(|at| self.code.dark(*at, row)).count();
                if run > 0 {
                    let place = |at: usize| (MARGIN + at) * module;
                    let (x, y) = (place(column), place(row));
                    blocks.push(Shape::Block { x, y, width: run * module, height: module });
                }
                column += run.max(1);
            }
        }
        blocks
    }
}

//! One label: the code in a frame, the tag beneath it for people.
//!
//! The frame is in the manner of IEC 61406-1: a line around the quiet zone with the lower right corner filled, which
//! tells a person that the code holds an identification link (frame and corner from memory of the standard; its text
//! was not at hand). The filled corner stays outside the quiet zone, so that it never takes part in reading.

use crate::draw::QUIET;
use crate::letters::{self, HIGH, WIDE};
use crate::{Code, DrawError, Gray, Strength};

/// Width of the frame's line and side of its filled corner, in modules.
const LINE: usize = 1;
const CORNER: usize = 3;
/// From the frame's outer edge to the code.
const MARGIN: usize = LINE + CORNER + QUIET;
/// From the frame to the tag beneath, and from the tag to the lower edge.
const GAP: usize = 2;
/// Dots from one letter to the next.
const PITCH: usize = WIDE + 1;

/// A label: a framed code and the tag beneath it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    code: Code,
    tag: String,
}

impl Label {
    /// Returns the label of a tag, its code holding a link; see [`crate::link()`].
    ///
    /// # Errors
    ///
    /// [`DrawError`] for a link that no code can hold.
    pub fn of(link: &str, tag: &str, least: Strength) -> Result<Label, DrawError> {
        Ok(Label { code: Code::strongest(link, least)?, tag: tag.trim().to_owned() })
    }

    /// Returns its code.
    #[must_use]
    pub fn code(&self) -> &Code {
        &self.code
    }

    /// Returns its width in modules.
    #[must_use]
    pub fn width(&self) -> usize {
        self.code.side() + 2 * MARGIN
    }

    /// Returns its height in modules.
    #[must_use]
    pub fn height(&self) -> usize {
        self.width() + GAP + HIGH + GAP
    }

    /// Returns it as SVG, one module so many millimetres wide.
    #[must_use]
    pub fn svg(&self, module_mm: f64) -> String {
        #[allow(clippy::cast_precision_loss)] // A label has at most 193 modules.
        let mm = |modules: usize| modules as f64 * module_mm;
        let (side, height, inner) = (self.width(), self.height(), self.width() - 2 * LINE);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {side} {height}\">\
             <rect width=\"{side}\" height=\"{height}\" fill=\"#fff\"/>\
             <path fill-rule=\"evenodd\" d=\"M0 0h{side}v{side}h-{side}zM{LINE} {LINE}v{inner}h{inner}v-{inner}z\"/>\
             <path d=\"M{edge} {edge}v-{CORNER}l-{CORNER} {CORNER}z\"/>\
             <path d=\"{code}\"/>\
             <text x=\"{middle}\" y=\"{base}\" textLength=\"{wide}\" lengthAdjust=\"spacingAndGlyphs\" \
             font-family=\"monospace\" font-size=\"{HIGH}\" font-weight=\"700\" text-anchor=\"middle\">{tag}</text></svg>",
            w = mm(side),
            h = mm(height),
            edge = side - LINE,
            code = self.code.path(MARGIN),
            middle = mm(side) / module_mm / 2.0,
            base = side + GAP + HIGH,
            wide = (self.letters() * PITCH).clamp(1, side),
            tag = escaped(&self.tag),
        )
    }

    /// Returns it as a picture, so many pixels a module.
    #[must_use]
    pub fn bitmap(&self, pixels: usize) -> Gray {
        let pixels = pixels.max(1);
        let (width, height) = (self.width() * pixels, self.height() * pixels);
        Gray::from_fn(width, height, |x, y| if self.inked(x, y, pixels) { 0 } else { 255 })
    }

    fn inked(&self, x: usize, y: usize, pixels: usize) -> bool {
        let side = self.width();
        let (column, row) = (x / pixels, y / pixels);
        if row >= side {
            return self.lettered(
                x,
                y.saturating_sub((side + GAP) * pixels),
                y / pixels >= side + GAP,
                pixels,
            );
        }
        let inner = LINE..side - LINE;
        let corner = (side - LINE) * pixels * 2 < x + y + CORNER * pixels;
        !inner.contains(&column)
            || !inner.contains(&row)
            || corner
            || column
                .checked_sub(MARGIN)
                .zip(row.checked_sub(MARGIN))
                .is_some_and(|(x, y)| self.code.dark(x, y))
    }

    /// Letters are as large as the label's width lets them be, up to a dot a module.
    fn lettered(&self, x: usize, y: usize, beneath: bool, pixels: usize) -> bool {
        let width = self.width() * pixels;
        let dots = (self.letters() * PITCH).max(1);
        let dot = (width / dots).min(pixels).max(1);
        let Some(across) = x.checked_sub(width.saturating_sub(dots * dot) / 2) else { return false };
        let (column, row) = (across / dot, y / dot);
        let letter = self.tag.chars().nth(column / PITCH);
        beneath && row < HIGH && letter.is_some_and(|letter| letters::dot(letter, column % PITCH, row))
    }

    fn letters(&self) -> usize {
        self.tag.chars().count()
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::{Label, MARGIN};
    use crate::draw::QUIET;
    use crate::{Effort, Strength, read};

    const LINK: &str = "https://id.marrowby.example/i/LT-2041";

    fn label() -> Label {
        Label::of(LINK, "LT-2041", Strength::Medium).unwrap()
    }

    #[test]
    fn the_picture_of_a_label_reads_as_its_link() {
        for pixels in [3, 6, 11] {
            let seen = read(&label().bitmap(pixels), Effort::Frame, &mut || true);
            assert_eq!(seen.codes.iter().map(|code| code.text.as_str()).collect::<Vec<_>>(), [LINK]);
        }
    }

    #[test]
    fn four_modules_around_the_code_stay_white() {
        let (label, picture) = (label(), label().bitmap(1));
        let code = MARGIN..MARGIN + label.code().side();
        let zone = code.start - QUIET..code.end + QUIET;
        for y in zone.clone() {
            for x in zone.clone().filter(|x| !code.contains(x) || !code.contains(&y)) {
                assert_eq!(picture.pixels()[y * picture.width() + x], 255, "{x} {y}");
            }
        }
    }

    #[test]
    fn only_the_lower_right_corner_is_filled() {
        let picture = label().bitmap(4);
        let at = |x: usize, y: usize| picture.pixels()[y * picture.width() + x];
        let (near, far) = (5, picture.width() - 6);
        assert_eq!([at(near, near), at(far, near), at(near, far), at(far, far)], [255, 255, 255, 0]);
    }

    #[test]
    fn a_tag_is_text_in_the_drawing_and_never_markup() {
        let svg = Label::of(LINK, "<b>&\"", Strength::Low).unwrap().svg(0.5);
        assert!(svg.contains("&lt;b&gt;&amp;&quot;") && !svg.contains("<b>"), "{svg}");
    }
}

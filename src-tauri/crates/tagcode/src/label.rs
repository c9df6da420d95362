//! One label: the code in a frame, the tag beneath it for people.
//!
//! The frame is in the manner of IEC 61406-1: a line around the quiet zone with the lower right corner filled, which
//! tells a person that the code holds an identification link (frame and corner from memory of the standard; its text
//! was not at hand).

use crate::draw::QUIET;
use crate::{Code, DrawError, Strength};

/// Width of the frame's line and side of its filled corner, in modules.
const LINE: usize = 1;
const CORNER: usize = 3;
/// Height of the tag beneath, in modules.
const TEXT: usize = 6;

/// Returns a label as SVG: the code of a link with its frame, and a tag beneath, one module so many millimetres wide.
///
/// # Errors
///
/// [`DrawError`] for a link that no code can hold.
pub fn label_svg(link: &str, tag: &str, strength: Strength, module_mm: f64) -> Result<String, DrawError> {
    let code = Code::of(link, strength)?;
    let inner = code.side() + 2 * QUIET;
    let side = inner + 2 * LINE;
    let height = side + TEXT;
    #[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
    let mm = |modules: usize| modules as f64 * module_mm;
    let corner = side - LINE - CORNER + LINE;
    Ok(format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {side} {height}"><rect width="{side}" height="{height}" fill="#fff"/><path fill="#000" fill-rule="evenodd" d="M0 0h{side}v{side}h-{side}zM{LINE} {LINE}v{inner}h{inner}v-{inner}z"/><path fill="#000" d="M{side} {corner}v{CORNER}h-{CORNER}z"/><g transform="translate({LINE} {LINE})"><path fill="#000" d="{path}"/></g><text x="{middle}" y="{base}" font-family="sans-serif" font-size="4.4" font-weight="700" text-anchor="middle" fill="#000">{text}</text></svg>"##,
        w = mm(side),
        h = mm(height),
        path = code.svg_path(),
        middle = side / 2,
        base = side + TEXT - 1,
        text = escaped(tag),
    ))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

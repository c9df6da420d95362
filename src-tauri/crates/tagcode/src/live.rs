//! What a live camera shows of a label: from how far away its modules still have enough pixels.

/// The side of the square that is cut out of the middle of a camera's picture and looked at, in pixels.
///
/// A larger one reads from farther away, and takes longer to bring over from the pages and to look at.
pub const FRAME_SIDE: u32 = 512;

/// A camera's picture over a usual phone's 65 degrees (common practice, no source), 16 wide and 9 high: the middle square
/// is as wide as the picture is high. At a distance of 1 it shows `2 * tan(32.5 deg) * 9 / 16`, with the tangent 0.6370703.
const SHOWN: f64 = 2.0 * 0.637_070_3 * 9.0 / 16.0;
/// How many pixels of the frame a module needs (measured: `suite --test tagcode reach`).
const PIXELS: f64 = 2.4;

/// From how many of its modules' widths a code is read off a frame: at `distance` widths a module has
/// `FRAME_SIDE / (SHOWN * distance)` pixels. With 512 pixels that is 297 widths; a code of 30 modules is then a tenth of the
/// distance, which is the usual rule of thumb for printed codes (common practice, no source; ISO/IEC 18004 states none).
pub(crate) const REACH: f64 = FRAME_SIDE as f64 / (SHOWN * PIXELS);

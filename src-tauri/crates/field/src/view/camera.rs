//! The camera, as far as the core has a say in it.

use serde::Serialize;

/// Where the screen takes the camera's frames from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum CameraSource {
    /// The device's own camera: always, on a phone.
    Device,
    /// Recorded frames, on a desktop that stands in for a phone.
    Recorded,
    /// A camera whose use is refused, on such a desktop.
    Refused,
}

/// The camera, and how large the frames are that the core takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct CameraView {
    /// Where frames come from.
    pub source: CameraSource,
    /// Their side in pixels: the square in the middle of the camera's picture, made so large.
    pub side: u32,
}

/// A recorded frame in shades of gray.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct RecordedFrame {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// A byte a pixel, row by row, as base64.
    pub base64: String,
}

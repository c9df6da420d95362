//! What stands in for the camera on a desktop: recorded frames, or a refusal. A phone has its own camera.

use std::path::Path;

use field::host::RecordedFrames;
use field::view::CameraSource;

/// Where frames come from.
pub(crate) enum StandIn {
    /// The device's camera, which the page opens by itself.
    Device,
    /// Pictures of a folder.
    Recorded(RecordedFrames),
    /// A camera that may not be used.
    Refused,
}

impl StandIn {
    /// Looks at what was named in the camera's place.
    pub(crate) fn of(named: Option<&Path>) -> StandIn {
        let Some(named) = named else { return StandIn::Device };
        if named.as_os_str() == "refused" {
            return StandIn::Refused;
        }
        match RecordedFrames::of(named) {
            Ok(frames) => StandIn::Recorded(frames),
            Err(error) => {
                tracing::warn!(%error, "the folder of recorded frames cannot be read");
                StandIn::Refused
            }
        }
    }

    /// Returns what the page is told.
    pub(crate) fn source(&self) -> CameraSource {
        match self {
            StandIn::Device => CameraSource::Device,
            StandIn::Recorded(_) => CameraSource::Recorded,
            StandIn::Refused => CameraSource::Refused,
        }
    }
}

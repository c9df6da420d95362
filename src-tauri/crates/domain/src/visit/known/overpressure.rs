//! What presses on the sensor beside the standing column, read.

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use super::Reader;
use crate::visit::Overpressure;

/// Pressures that come and go at the sensor; none where the register states none.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct KnownOverpressure {
    /// What a surge adds to the highest level's pressure.
    pub surge: Option<Pressure>,
    /// What a pump against a shut valve brings.
    pub shut_off: Option<Pressure>,
    /// What a pressure test of the line brings.
    pub hydrotest: Option<Pressure>,
}

/// Reads them; what cannot be read, or is negative, is named.
pub(super) fn read(reader: &mut Reader, of: &Overpressure) -> KnownOverpressure {
    let mut one = |field: &str, text: &str| {
        if text.trim().is_empty() {
            return None;
        }
        let pressure = reader.pressure(field, text);
        reader.not_negative(field, pressure.map(|pressure| pressure.get::<pascal>()));
        pressure
    };
    KnownOverpressure {
        surge: one("overpressure.surge", &of.surge),
        shut_off: one("overpressure.shut_off", &of.shut_off),
        hydrotest: one("overpressure.hydrotest", &of.hydrotest),
    }
}

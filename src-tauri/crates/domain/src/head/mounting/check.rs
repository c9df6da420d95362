//! Geometry that cannot be: a leg of negative length, a tap above the top, a number that is none.

use uom::si::f64::Length;

use super::{Mounting, MountingError};

impl Mounting {
    /// Refuses measures that no installation can have, naming the field.
    ///
    /// # Errors
    ///
    /// [`MountingError`] with the first field that is impossible.
    pub fn check(&self, span: Length) -> Result<(), MountingError> {
        self.finite(span)?;
        impossible(
            span <= Length::default(),
            "span",
            "the level at 100 % must be above the tank's zero. Check it.",
        )?;
        self.signs()?;
        self.seals()?;
        self.legs(span)
    }

    fn finite(&self, span: Length) -> Result<(), MountingError> {
        let heights =
            [("riser", Some(self.riser())), ("top", self.top()), ("tap", self.tap()), ("span", Some(span))];
        for (field, height) in heights {
            if height.is_some_and(|height| !height.value.is_finite()) {
                return Err(MountingError::NotANumber { field });
            }
        }
        Ok(())
    }

    fn signs(&self) -> Result<(), MountingError> {
        let zero = Length::default();
        match *self {
            Mounting::Riser { riser } => impossible(
                riser < zero,
                "riser",
                "a riser cannot be negative. A transmitter above the tank's zero is the mounting above_datum.",
            ),
            Mounting::AboveDatum { rise } => impossible(
                rise <= zero,
                "riser",
                "a transmitter above the tank's zero has a negative riser. Check its sign, or take the mounting riser.",
            ),
            _ => Ok(()),
        }
    }

    fn seals(&self) -> Result<(), MountingError> {
        let Some(tap) = self.tap() else { return Ok(()) };
        impossible(
            tap > Length::default(),
            "tap",
            "the lower seal stands above the tank's zero, so a low level is not seen. Check its sign and the datum.",
        )?;
        impossible(
            self.top().is_some_and(|top| top <= tap),
            "top",
            "the upper seal must stand above the lower one. Check both heights.",
        )
    }

    fn legs(&self, span: Length) -> Result<(), MountingError> {
        let Some(top) = self.top() else { return Ok(()) };
        // The height of a tap is as good as a tape; a 100 % put right at the tap must not fail by its last digit.
        let room = span * 1e-9;
        impossible(
            top < span - room,
            "top",
            "the upper tap must stand at or above the level at 100 %. Check both heights.",
        )?;
        let sensor = -self.riser();
        let leg = !self.has_seals();
        impossible(
            leg && top < sensor,
            "top",
            "the leg would have a negative length: the sensing point stands above its top. Check both heights.",
        )
    }
}

fn impossible(is: bool, field: &'static str, what: &'static str) -> Result<(), MountingError> {
    if is { Err(MountingError::Impossible { field, what }) } else { Ok(()) }
}

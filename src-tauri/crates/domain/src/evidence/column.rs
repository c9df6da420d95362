//! What a metre of liquid presses.

use super::InputId;
use super::equation::{Form, Var};

/// A column of liquid: the inputs that say what a metre of it presses, `(rho - rho_gas) g` times the scale of
/// the display's unit. Columns that share an input (one gravity, one density) are correlated by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    density: InputId,
    gravity: InputId,
    gas: Option<InputId>,
    scale: Option<InputId>,
    strength: Option<InputId>,
}

impl Column {
    /// Returns a column of a liquid under a gravity, in vacuum until told otherwise.
    #[must_use]
    pub fn new(density: InputId, gravity: InputId) -> Column {
        Column { density, gravity, gas: None, scale: None, strength: None }
    }

    /// Returns the column with the same height of gas taken off: a gauge vented where it stands.
    #[must_use]
    pub fn against(mut self, gas: InputId) -> Column {
        self.gas = Some(gas);
        self
    }

    /// Returns the column as seen by a display whose unit is uncertain: a number near 1, shown pascals over
    /// true pascals, one and the same for everything that display shows.
    #[must_use]
    pub fn shown_by(mut self, scale: InputId) -> Column {
        self.scale = Some(scale);
        self
    }

    /// Returns the input that holds its density, to be shared with other columns.
    #[must_use]
    pub fn density(&self) -> InputId {
        self.density
    }

    /// Returns the column as something other than the display feels it: without the doubt about the display's unit.
    #[must_use]
    pub fn in_true_pascals(mut self) -> Column {
        self.scale = None;
        self
    }

    /// Returns the same column of another density: the liquid of another day.
    #[must_use]
    pub fn of_density(mut self, density: InputId) -> Column {
        self.density = density;
        self
    }

    /// Returns the column with a number near 1 that its density is to be multiplied by: what is dissolved in a
    /// liquid that stands in several columns at different temperatures, in all of them alike.
    #[must_use]
    pub fn of_strength(mut self, strength: InputId) -> Column {
        self.strength = Some(strength);
        self
    }

    /// The inputs that must be there, the gas, and the plain numbers.
    pub(super) fn inputs(&self) -> ([InputId; 2], Option<InputId>, [Option<InputId>; 2]) {
        ([self.density, self.gravity], self.gas, [self.scale, self.strength])
    }

    /// Adds `factor * k * of...` to a form.
    pub(super) fn press(&self, form: &mut Form, factor: f64, of: &[Var]) {
        self.product(form, factor, self.density, of, self.strength);
        if let Some(gas) = self.gas {
            self.product(form, -factor, gas, of, None);
        }
    }

    fn product(&self, form: &mut Form, factor: f64, density: InputId, of: &[Var], strength: Option<InputId>) {
        let mut vars = vec![Var::Input(density.0), Var::Input(self.gravity.0)];
        vars.extend([self.scale, strength].into_iter().flatten().map(|number| Var::Input(number.0)));
        vars.extend_from_slice(of);
        form.product(factor, vars);
    }
}

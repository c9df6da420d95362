//! An instrument planned before the visit.

use domain::visit::plan;

use crate::view::PlanView;
use crate::{Error, Phone, show};

impl Phone {
    /// Plans an instrument from the register alone. It is there for instruments too that no visit may be made to;
    /// why not is said beside the numbers.
    ///
    /// # Errors
    ///
    /// [`Error::NoInstrument`], [`Error::UnreadableInstrument`], and what the store says.
    pub fn plan(&self, tag: &str) -> Result<PlanView, Error> {
        let row = self.register_row(tag)?;
        let planned = plan(&row, &self.sensor_ranges()?).map_err(|_| Error::UnreadableInstrument)?;
        Ok(show::plan(&row, &planned))
    }
}

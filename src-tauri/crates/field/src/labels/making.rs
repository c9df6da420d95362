//! From an order to labels on sheets.

use domain::visit::Instrument;
use tagcode::sheet::{Dpi, LabelError, Mm, Plate, Sheets, Stock, stock};
use tagcode::{DrawError, link};

use crate::view::{LabelOrder, LabelsOf};
use crate::{Error, Phone};

/// An order carried out.
pub(super) struct Made {
    pub(super) stock: &'static Stock,
    pub(super) labels: Vec<Plate>,
    pub(super) sheets: Sheets,
    /// Tags whose label's code does not stand in the register yet.
    pub(super) unlisted: Vec<String>,
}

impl Phone {
    pub(super) fn made(&self, order: &LabelOrder) -> Result<Made, Error> {
        let stock = stock(&order.sheet).ok_or(Error::NoSheet)?;
        let printer =
            Dpi::of(order.printer).ok_or(Error::NoPrinter { least: Dpi::LEAST, most: Dpi::MOST })?;
        let distance = Mm(f64::from(order.distance));
        let (mut labels, mut unlisted) = (Vec::new(), Vec::new());
        for tag in self.ordered(&order.labels)? {
            let row = self.register_row(&tag)?;
            let own = link(order.host.trim(), &row.tag).map_err(LabelError::from).map_err(no_host)?;
            let code = carried(&row, order.host.trim(), &own);
            if !row.codes.iter().any(|known| known == code) {
                unlisted.push(row.tag.clone());
            }
            let plate = Plate::on(code, &row.tag, stock, printer, distance)?;
            labels.push(plate);
        }
        let first = usize::try_from(order.first).unwrap_or(usize::MAX);
        let sheets = Sheets::of(stock, first, labels.clone())?;
        Ok(Made { stock, labels, sheets, unlisted })
    }

    fn ordered(&self, labels: &LabelsOf) -> Result<Vec<String>, Error> {
        match labels {
            LabelsOf::One { tag } if tag.trim().is_empty() => Ok(Vec::new()),
            LabelsOf::One { tag } => Ok(vec![self.register_row(tag)?.tag]),
            LabelsOf::Site { name } => {
                let listed = self.store().listed()?.into_iter();
                let mut tags: Vec<String> =
                    listed.filter(|listed| listed.site == *name).map(|listed| listed.tag).collect();
                tags.sort();
                Ok(tags)
            }
        }
    }
}

/// A link on the same host that the register already knows stays the instrument's for ever: a new label says the same
/// as the old one.
fn carried<'a>(row: &'a Instrument, host: &str, own: &'a str) -> &'a str {
    let on_host = |code: &&String| {
        code.strip_prefix("https://")
            .is_some_and(|rest| rest.split('/').next().is_some_and(|own| own.eq_ignore_ascii_case(host)))
    };
    row.codes.iter().find(on_host).map_or(own, String::as_str)
}

/// What was typed as a host stays out of what may be logged.
fn no_host(error: LabelError) -> Error {
    match error {
        LabelError::Code(DrawError::Host { .. }) => Error::NoHost,
        other => Error::Label(other),
    }
}

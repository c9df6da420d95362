//! Labels laid out on sheets.

use super::{LabelError, Plate, Stock};

/// The most labels that are printed at once.
const MOST: usize = 2_000;

/// Labels on as many sheets as they take.
#[derive(Debug, Clone)]
pub struct Sheets {
    pub(super) stock: &'static Stock,
    pages: Vec<Page>,
}

/// One sheet: labels and their places on it.
#[derive(Debug, Clone)]
pub struct Page {
    /// Place, row by row from 0, and label.
    pub labels: Vec<(usize, Plate)>,
}

impl Sheets {
    /// Lays labels out, from a place on the first sheet on, counted row by row from 1: a part-used sheet is used up.
    ///
    /// # Errors
    ///
    /// [`LabelError::Nothing`], [`LabelError::TooMany`], [`LabelError::NoPlace`].
    pub fn of(stock: &'static Stock, first: usize, labels: Vec<Plate>) -> Result<Sheets, LabelError> {
        let places = stock.places();
        if labels.is_empty() {
            return Err(LabelError::Nothing);
        }
        if labels.len() > MOST {
            return Err(LabelError::TooMany { count: labels.len(), most: MOST });
        }
        let begun = first.checked_sub(1).filter(|place| *place < places);
        let begun = begun.ok_or(LabelError::NoPlace { places, first })?;
        let mut pages: Vec<Page> = Vec::new();
        for (at, label) in (begun..).zip(labels) {
            match pages.last_mut() {
                Some(page) if at % places != 0 => page.labels.push((at % places, label)),
                _ => pages.push(Page { labels: vec![(at % places, label)] }),
            }
        }
        Ok(Sheets { stock, pages })
    }

    /// Returns the sheets.
    #[must_use]
    pub fn pages(&self) -> &[Page] {
        &self.pages
    }
}

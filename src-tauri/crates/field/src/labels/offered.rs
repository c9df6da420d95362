//! What can be chosen, and what to begin with.

use std::collections::BTreeMap;

use tagcode::sheet::STOCKS;

use crate::view::{LabelOrder, LabelSheet, LabelSite, LabelsOf, LabelsView};
use crate::{Error, Phone};

/// The setting that holds the utility's host, as it was last printed.
pub(super) const HOST: &str = "labels.host";
/// Office printers, label printers, photo printers.
const PRINTERS: [u32; 4] = [203, 300, 600, 1200];
/// A hand's breadth before the plate, an arm's length, and a step away, in millimetres.
const DISTANCES: [u32; 4] = [150, 200, 300, 600];

impl Phone {
    /// Returns what labels can be printed of, and how.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn labels(&self) -> Result<LabelsView, Error> {
        let mut sites: BTreeMap<String, u32> = BTreeMap::new();
        let mut first = String::new();
        for listed in self.store().listed()? {
            if first.is_empty() {
                first.clone_from(&listed.tag);
            }
            *sites.entry(listed.site).or_default() += 1;
        }
        let sites: Vec<LabelSite> =
            sites.into_iter().map(|(name, instruments)| LabelSite { name, instruments }).collect();
        let labels = LabelsOf::Site { name: sites.first().map(|site| site.name.clone()).unwrap_or_default() };
        let order = LabelOrder {
            labels,
            host: self.host(&first)?,
            sheet: STOCKS.first().map_or("", |stock| stock.key).to_owned(),
            first: 1,
            printer: 600,
            distance: 300,
        };
        Ok(LabelsView {
            sites,
            sheets: STOCKS.iter().map(sheet).collect(),
            printers: PRINTERS.to_vec(),
            distances: DISTANCES.to_vec(),
            order,
        })
    }

    /// The host that was last printed; else the one that the register's own codes name; else none.
    fn host(&self, tag: &str) -> Result<String, Error> {
        if let Some(host) = self.store().setting(HOST)? {
            return Ok(host);
        }
        if tag.is_empty() {
            return Ok(String::new());
        }
        let codes = self.register_row(tag)?.codes;
        let host = codes.iter().find_map(|code| Some(code.strip_prefix("https://")?.split_once('/')?.0));
        Ok(host.unwrap_or_default().to_owned())
    }
}

fn sheet(stock: &tagcode::sheet::Stock) -> LabelSheet {
    let (columns, rows) = (stock.columns, stock.rows);
    let (width, height) = (stock.label.0.0, stock.label.1.0);
    LabelSheet {
        key: stock.key.to_owned(),
        name: format!("{}, {columns} \u{d7} {rows} of {width} \u{d7} {height} mm", stock.paper),
        places: u32::try_from(stock.places()).unwrap_or(u32::MAX),
    }
}

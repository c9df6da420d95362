//! Common sheets of labels, by their geometry.
//!
//! Grids that many makers sell alike (common practice, no source): a sheet in hand is measured against these numbers
//! before it is printed on.

use super::Mm;

/// A sheet of labels: a page with a grid of equal labels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// Names it for good: kept in settings and sent by the pages.
    pub key: &'static str,
    /// The page, as people call it.
    pub paper: &'static str,
    /// Width and height of the page.
    pub page: (Mm, Mm),
    /// Labels across.
    pub columns: usize,
    /// Labels down.
    pub rows: usize,
    /// Width and height of a label.
    pub label: (Mm, Mm),
    /// From the page's left and upper edge to the first label.
    pub first: (Mm, Mm),
    /// From one label's left or upper edge to the next one's.
    pub pitch: (Mm, Mm),
}

const A4: (Mm, Mm) = (Mm(210.0), Mm(297.0));
const LETTER: (Mm, Mm) = (Mm(215.9), Mm(279.4));

/// The sheets, larger labels first on either paper.
pub const STOCKS: [Stock; 9] = [
    Stock {
        key: "a4-2x4",
        paper: "A4",
        page: A4,
        columns: 2,
        rows: 4,
        label: (Mm(99.1), Mm(67.7)),
        first: (Mm(4.65), Mm(13.1)),
        pitch: (Mm(101.6), Mm(67.7)),
    },
    Stock {
        key: "a4-2x7",
        paper: "A4",
        page: A4,
        columns: 2,
        rows: 7,
        label: (Mm(99.1), Mm(38.1)),
        first: (Mm(4.65), Mm(15.15)),
        pitch: (Mm(101.6), Mm(38.1)),
    },
    Stock {
        key: "a4-3x8",
        paper: "A4",
        page: A4,
        columns: 3,
        rows: 8,
        label: (Mm(70.0), Mm(37.0)),
        first: (Mm(0.0), Mm(0.5)),
        pitch: (Mm(70.0), Mm(37.0)),
    },
    Stock {
        key: "a4-3x7",
        paper: "A4",
        page: A4,
        columns: 3,
        rows: 7,
        label: (Mm(63.5), Mm(38.1)),
        first: (Mm(7.2), Mm(15.15)),
        pitch: (Mm(66.05), Mm(38.1)),
    },
    Stock {
        key: "a4-4x12",
        paper: "A4",
        page: A4,
        columns: 4,
        rows: 12,
        label: (Mm(45.7), Mm(21.2)),
        first: (Mm(9.75), Mm(21.3)),
        pitch: (Mm(48.25), Mm(21.2)),
    },
    Stock {
        key: "letter-2x3",
        paper: "US Letter",
        page: LETTER,
        columns: 2,
        rows: 3,
        label: (Mm(101.6), Mm(84.6)),
        first: (Mm(3.95), Mm(12.7)),
        pitch: (Mm(106.4), Mm(84.667)),
    },
    Stock {
        key: "letter-2x5",
        paper: "US Letter",
        page: LETTER,
        columns: 2,
        rows: 5,
        label: (Mm(101.6), Mm(50.8)),
        first: (Mm(3.95), Mm(12.7)),
        pitch: (Mm(106.4), Mm(50.8)),
    },
    Stock {
        key: "letter-2x7",
        paper: "US Letter",
        page: LETTER,
        columns: 2,
        rows: 7,
        label: (Mm(101.6), Mm(33.8)),
        first: (Mm(3.95), Mm(21.2)),
        pitch: (Mm(106.4), Mm(33.867)),
    },
    Stock {
        key: "letter-3x10",
        paper: "US Letter",
        page: LETTER,
        columns: 3,
        rows: 10,
        label: (Mm(66.7), Mm(25.4)),
        first: (Mm(4.75), Mm(12.7)),
        pitch: (Mm(69.85), Mm(25.4)),
    },
];

/// Returns the sheet of a key.
#[must_use]
pub fn stock(key: &str) -> Option<&'static Stock> {
    STOCKS.iter().find(|stock| stock.key == key)
}

impl Stock {
    /// Returns how many labels it has.
    #[must_use]
    pub fn places(&self) -> usize {
        self.columns * self.rows
    }

    /// Returns how near a label comes to the page's edge, sideways and up or down, wherever it lies.
    #[must_use]
    pub fn from_the_page(&self) -> (Mm, Mm) {
        #[allow(clippy::cast_precision_loss)] // A sheet has a few dozen labels.
        let beyond = |page: Mm, first: Mm, pitch: Mm, label: Mm, count: usize| {
            let last = first.0 + pitch.0 * count.saturating_sub(1) as f64 + label.0;
            Mm(first.0.min(page.0 - last))
        };
        (
            beyond(self.page.0, self.first.0, self.pitch.0, self.label.0, self.columns),
            beyond(self.page.1, self.first.1, self.pitch.1, self.label.1, self.rows),
        )
    }

    /// Returns the left and upper edge of a place, row by row from 0; none beyond the last.
    #[must_use]
    pub fn corner(&self, place: usize) -> Option<(Mm, Mm)> {
        if place >= self.places() {
            return None;
        }
        #[allow(clippy::cast_precision_loss)] // A sheet has a few dozen labels.
        let (column, row) = ((place % self.columns) as f64, (place / self.columns) as f64);
        Some((Mm(self.first.0.0 + column * self.pitch.0.0), Mm(self.first.1.0 + row * self.pitch.1.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::STOCKS;

    #[test]
    fn labels_lie_within_the_page_and_beside_each_other() {
        for stock in STOCKS {
            let (wide, high) = (stock.label.0.0, stock.label.1.0);
            assert!(wide <= stock.pitch.0.0 && high <= stock.pitch.1.0, "{}", stock.key);
            let (x, y) = stock.corner(stock.places() - 1).unwrap();
            // What is left beyond the last label is what is left before the first: grids stand in the middle.
            let (right, below) = (stock.page.0.0 - x.0 - wide, stock.page.1.0 - y.0 - high);
            assert!((right - stock.first.0.0).abs() < 0.35, "{}: {right}", stock.key);
            assert!((below - stock.first.1.0).abs() < 0.35, "{}: {below}", stock.key);
            assert!(stock.corner(stock.places()).is_none());
        }
    }

    #[test]
    fn keys_are_one_of_a_kind() {
        let mut keys = STOCKS.map(|stock| stock.key);
        keys.sort_unstable();
        assert!(keys.windows(2).all(|pair| pair[0] != pair[1]));
    }
}

//! Lines as an editor counts them.

/// Counts lines up to places that go forward.
pub(super) struct Lines<'b> {
    bytes: &'b [u8],
    at: usize,
    line: u64,
}

impl<'b> Lines<'b> {
    /// Begins in the first line.
    pub(super) fn of(bytes: &'b [u8]) -> Lines<'b> {
        Lines { bytes, at: 0, line: 1 }
    }

    /// Returns the line of what begins at a place, or at the next place that holds something: a reader of tables that
    /// stopped at the first half of a line end has not seen the other half yet.
    pub(super) fn at(&mut self, place: usize) -> u64 {
        while let Some(byte) = self.bytes.get(self.at) {
            if self.at >= place && !matches!(byte, b'\r' | b'\n') {
                break;
            }
            let whole = *byte == b'\n' || *byte == b'\r' && self.bytes.get(self.at + 1) != Some(&b'\n');
            self.line += u64::from(whole);
            self.at += 1;
        }
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_line_end_counts_once() {
        let mut lines = Lines::of(b"a\r\nb\nc\rd\r\n\r\ne");
        let found: Vec<_> = [0, 2, 5, 7, 9].map(|at| lines.at(at)).to_vec();
        assert_eq!(found, [1, 2, 3, 4, 6]);
    }
}

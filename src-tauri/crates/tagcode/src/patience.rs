//! How long the one who waits will wait.

/// Asks whether to go on, and after one no asks no more: what was begun ends at the next question.
pub(crate) struct Patience<'a> {
    keep_going: &'a mut dyn FnMut() -> bool,
    over: bool,
}

impl<'a> Patience<'a> {
    /// Asks by this callback.
    pub(crate) fn of(keep_going: &'a mut dyn FnMut() -> bool) -> Patience<'a> {
        Patience { keep_going, over: false }
    }

    /// Tells whether it is over, asking unless it was.
    pub(crate) fn is_over(&mut self) -> bool {
        self.over = self.over || !(self.keep_going)();
        self.over
    }

    /// Tells whether it was over when it was last asked.
    pub(crate) fn was_over(&self) -> bool {
        self.over
    }
}

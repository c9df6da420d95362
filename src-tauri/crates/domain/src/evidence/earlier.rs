//! An earlier visit as evidence.

use super::case::Case;
use super::equation::{Form, Role, Var};
use super::input::Dimension;
use super::{Column, Input, InputId, ReferenceId};

/// What an earlier visit says today: the total offset its evidence called for, `o' = -(z' + B')`.
///
/// `B'` stood at that day's density; `z'` was the zero before it moved. Whatever that visit leaned on and today's
/// evidence leans on as well (a hatch height, a tape, the sensor's accuracy under head) is named by the very inputs
/// that stand for it today, so that an error in them is one error and cannot check itself.
#[derive(Debug, Clone, PartialEq)]
pub struct EarlierVisit {
    /// The offset as that visit gave it, with the part of its uncertainty that is its own.
    pub offset: InputId,
    /// What the zero has moved since: zero, give or take.
    pub moved: InputId,
    /// The liquid of that day.
    pub then: Column,
    /// The liquid of today.
    pub now: Column,
    /// The riser's height: only the change of density over it counts, so that the register's will do.
    pub riser: InputId,
    /// The sensor's accuracy under head, where that visit read it under head.
    pub accuracy: Option<InputId>,
    /// Lengths, shared with today, that raised the offset metre for metre.
    pub plus: Vec<InputId>,
    /// Lengths, shared with today, that lowered it.
    pub minus: Vec<InputId>,
}

impl Case {
    /// States what an earlier visit says of the zero error and the standing head together.
    ///
    /// `z - moved + B + (k' - k) H + o' + k' (plus - minus as they are, less as they were taken) - accuracy = 0`
    pub fn earlier(&mut self, by: ReferenceId, told: &EarlierVisit) {
        self.own_reference(by);
        self.own_column(told.then);
        self.own_column(told.now);
        self.expect(&[told.offset, told.moved], Dimension::Pressure);
        self.expect(&[told.riser], Dimension::Length);
        self.expect(&told.plus, Dimension::Length);
        self.expect(&told.minus, Dimension::Length);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(Case::ZERO));
        form.add(-1.0, Var::Input(told.moved.0));
        form.add(1.0, Var::Unknown(Case::HEAD));
        told.then.press(&mut form, 1.0, &[Var::Input(told.riser.0)]);
        told.now.press(&mut form, -1.0, &[Var::Input(told.riser.0)]);
        form.add(1.0, Var::Input(told.offset.0));
        if let Some(accuracy) = told.accuracy {
            self.expect(&[accuracy], Dimension::Pressure);
            form.add(-1.0, Var::Input(accuracy.0));
        }
        for (factor, lengths) in [(1.0, &told.plus), (-1.0, &told.minus)] {
            for length in lengths {
                let taken = self.as_taken(*length);
                told.then.press(&mut form, factor, &[Var::Input(length.0)]);
                told.then.press(&mut form, -factor, &[Var::Input(taken.0)]);
            }
        }
        self.equation(Role::Reference(by.0), form, 1.0);
    }

    /// A shared length as that visit took it: the value alone, exactly.
    fn as_taken(&mut self, of: InputId) -> InputId {
        let exact = self.inputs.get(of.0).map(Input::as_taken);
        exact.map_or(of, |exact| self.input(exact))
    }
}

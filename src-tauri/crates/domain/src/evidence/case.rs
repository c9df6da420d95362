//! The case: inputs, unknowns and the equations between them.

use super::equation::{Equation, Form, Role, Var};
use super::input::Dimension;
use super::tape::Hung;
use super::{Column, EvidenceError, Input, InputId};

/// Names one state of the unit: the offset it carried before or after something was done to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OffsetId(pub(super) usize);

/// Names a level: the liquid's surface at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LevelId(pub(super) usize);

/// Names a reference: a piece of evidence that stands by itself in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ReferenceId(pub(super) usize);

impl ReferenceId {
    /// Returns its place in the order the references were added, from 0.
    #[must_use]
    pub fn place(self) -> usize {
        self.0
    }
}

/// What is known of the offset that the unit carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carried {
    /// Nothing.
    Unknown,
    /// Read on the unit today, or cleared today (then the input is zero).
    Known(InputId),
    /// Taken from a record: an assumption.
    OnRecord(InputId),
}

/// A reading under head, or several taken as one.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The state of the unit it was taken in.
    pub offset: OffsetId,
    /// The level it saw.
    pub level: LevelId,
    /// The liquid above the tank's zero.
    pub column: Column,
    /// What adds up to the reading: the number shown, and inputs of value zero for what the display may be
    /// off by (its step, the sensor's accuracy). Share an input between readings to share its error.
    pub parts: Vec<InputId>,
    /// Time from the level's moment to the reading, negative before it. Once one reading of a level has a time,
    /// the level may move, and its rate must follow from two readings or be given by [`Case::rate`].
    pub elapsed: Option<InputId>,
    /// The damping's time constant: a moving level is shown that much late.
    pub lag: Option<InputId>,
}

/// What an unknown stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unknown {
    Zero,
    Head,
    Offset,
    Level,
    Rate,
}

impl Unknown {
    /// Returns the size, in the unknown's own unit, that moves a reading by about a pascal.
    pub(super) fn size(self) -> f64 {
        match self {
            Unknown::Zero | Unknown::Head | Unknown::Offset => 1.0,
            Unknown::Level => 1.0 / WATER,
            Unknown::Rate => 1.0 / (WATER * 60.0),
        }
    }
}

/// Pascals in a metre of water, roughly: only puts lengths and pressures on one footing in the arithmetic.
const WATER: f64 = 9.8e3;

/// A case under construction. Parts are named by the ids that adding them returns.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    pub(super) inputs: Vec<Input>,
    pub(super) unknowns: Vec<Unknown>,
    pub(super) equations: Vec<Equation>,
    pub(super) references: Vec<String>,
    pub(super) columns: Vec<Column>,
    rates: Vec<(LevelId, usize)>,
    fault: Option<EvidenceError>,
}

impl Default for Case {
    fn default() -> Self {
        Case::new()
    }
}

impl Case {
    pub(super) const ZERO: usize = 0;
    pub(super) const HEAD: usize = 1;

    /// Returns a case in which nothing is known.
    #[must_use]
    pub fn new() -> Case {
        Case {
            inputs: Vec::new(),
            unknowns: vec![Unknown::Zero, Unknown::Head],
            equations: Vec::new(),
            references: Vec::new(),
            columns: Vec::new(),
            rates: Vec::new(),
            fault: None,
        }
    }

    /// Adds an input. One physical cause is one input, however often it is used.
    pub fn input(&mut self, input: Input) -> InputId {
        self.inputs.push(input);
        InputId(self.inputs.len() - 1)
    }

    /// Adds a state of the unit with the offset it carried.
    pub fn offset(&mut self, carried: Carried) -> OffsetId {
        let place = self.unknown(Unknown::Offset);
        if let Carried::OnRecord(id) = carried
            && let Some(input) = self.inputs.get_mut(id.0)
        {
            input.assumed = true;
        }
        if let Carried::Known(id) | Carried::OnRecord(id) = carried {
            self.expect(&[id], Dimension::Pressure);
            let mut form = Form::default();
            form.add(1.0, Var::Unknown(place));
            form.add(-1.0, Var::Input(id.0));
            self.equation(Role::State, form, 1.0);
        }
        OffsetId(place)
    }

    /// Adds a later state of the unit that differs from an earlier one by a known change.
    pub fn offset_changed(&mut self, from: OffsetId, change: InputId) -> OffsetId {
        self.expect(&[change], Dimension::Pressure);
        self.own_unknown(from.0, Unknown::Offset);
        let place = self.unknown(Unknown::Offset);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(place));
        form.add(-1.0, Var::Unknown(from.0));
        form.add(-1.0, Var::Input(change.0));
        self.equation(Role::State, form, 1.0);
        OffsetId(place)
    }

    /// Adds a level: where the surface stood at one moment.
    pub fn level(&mut self) -> LevelId {
        LevelId(self.unknown(Unknown::Level))
    }

    /// Adds a reading under head.
    pub fn reading(&mut self, reading: &Reading) {
        self.own_unknown(reading.offset.0, Unknown::Offset);
        self.own_unknown(reading.level.0, Unknown::Level);
        self.expect(&reading.parts, Dimension::Pressure);
        self.own_column(reading.column);
        let mut form = self.shown(&reading.parts, reading.offset);
        form.add(-1.0, Var::Unknown(Case::HEAD));
        reading.column.press(&mut form, -1.0, &[Var::Unknown(reading.level.0)]);
        if let Some(elapsed) = reading.elapsed {
            self.expect(&[elapsed], Dimension::Time);
            let rate = Var::Unknown(self.rate_of(reading.level));
            reading.column.press(&mut form, -1.0, &[rate, Var::Input(elapsed.0)]);
            if let Some(lag) = reading.lag {
                self.expect(&[lag], Dimension::Time);
                reading.column.press(&mut form, 1.0, &[rate, Var::Input(lag.0)]);
            }
        }
        self.equation(Role::Reading, form, 1.0);
    }

    /// Adds a reference under a name. What it says follows by [`Case::level_is`], [`Case::riser`] or
    /// [`Case::vented`].
    pub fn reference(&mut self, label: impl Into<String>) -> ReferenceId {
        self.references.push(label.into());
        ReferenceId(self.references.len() - 1)
    }

    /// States a level as a sum of lengths: a dip plus the floor, a hatch less a drop, a sill.
    pub fn level_is(&mut self, by: ReferenceId, level: LevelId, plus: &[InputId], minus: &[InputId]) {
        self.own_reference(by);
        self.own_unknown(level.0, Unknown::Level);
        self.expect(plus, Dimension::Length);
        self.expect(minus, Dimension::Length);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(level.0));
        plus.iter().for_each(|id| form.add(-1.0, Var::Input(id.0)));
        minus.iter().for_each(|id| form.add(1.0, Var::Input(id.0)));
        self.equation(Role::Reference(by.0), form, WATER);
    }

    /// States a level by a hanging tape: what stands in `from`, plus or minus the height that the tape hung over. Lengths in
    /// `plus` and `minus` are added and taken away as they are.
    pub fn level_by_tape(
        &mut self,
        by: ReferenceId,
        level: LevelId,
        down: bool,
        hung: &Hung,
        more: [&[InputId]; 2],
    ) {
        let [plus, minus] = more;
        self.own_reference(by);
        self.own_unknown(level.0, Unknown::Level);
        self.expect(plus, Dimension::Length);
        self.expect(minus, Dimension::Length);
        self.expect(&[hung.read], Dimension::Length);
        self.expect(hung.slant.as_slice(), Dimension::Length);
        self.expect(hung.stretch.as_slice(), Dimension::Ratio);
        if let Some((expansion, warmer)) = hung.warmth {
            self.expect(&[expansion], Dimension::Expansion);
            self.expect(&[warmer], Dimension::Warmth);
        }
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(level.0));
        plus.iter().for_each(|id| form.add(-1.0, Var::Input(id.0)));
        minus.iter().for_each(|id| form.add(1.0, Var::Input(id.0)));
        hung.add(&mut form, if down { 1.0 } else { -1.0 });
        self.equation(Role::Reference(by.0), form, WATER);
    }

    /// States a level by the pressure under it, as another sensor feels it: pressures against the column's height.
    /// Lengths in `more` are added to that height.
    pub fn pressed(
        &mut self,
        by: ReferenceId,
        level: LevelId,
        column: Column,
        parts: &[InputId],
        more: &[InputId],
    ) {
        self.own_reference(by);
        self.own_unknown(level.0, Unknown::Level);
        self.expect(parts, Dimension::Pressure);
        self.expect(more, Dimension::Length);
        self.own_column(column);
        let mut form = Form::default();
        parts.iter().for_each(|id| form.add(1.0, Var::Input(id.0)));
        column.press(&mut form, -1.0, &[Var::Unknown(level.0)]);
        more.iter().for_each(|id| column.press(&mut form, 1.0, &[Var::Input(id.0)]));
        self.equation(Role::Reference(by.0), form, 1.0);
    }

    /// States the standing head by the heights of its columns; a negative height for a transmitter above the zero.
    pub fn riser(&mut self, by: ReferenceId, columns: &[(Column, InputId)]) {
        let parts: Vec<_> = columns.iter().map(|(column, height)| (1.0, *column, *height)).collect();
        self.standing(by, &parts);
    }

    /// States the standing head by columns on either side of the sensor: how many times each is counted (1 on the high
    /// side, -1 on the low), what it is made of, and its height.
    pub fn standing(&mut self, by: ReferenceId, parts: &[(f64, Column, InputId)]) {
        self.standing_with(by, parts, &[]);
    }

    /// As [`Case::standing`], with pressures on top of what the columns make.
    pub fn standing_with(&mut self, by: ReferenceId, parts: &[(f64, Column, InputId)], more: &[InputId]) {
        self.own_reference(by);
        self.expect(more, Dimension::Pressure);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(Case::HEAD));
        for (times, column, height) in parts {
            self.own_column(*column);
            self.expect(&[*height], Dimension::Length);
            column.press(&mut form, -times, &[Var::Input(height.0)]);
        }
        more.iter().for_each(|id| form.add(-1.0, Var::Input(id.0)));
        self.equation(Role::Reference(by.0), form, 1.0);
    }

    /// States what the display showed with both sides at atmosphere; `left` are columns that stayed (a stub of
    /// water below the vent).
    pub fn vented(
        &mut self,
        by: ReferenceId,
        offset: OffsetId,
        parts: &[InputId],
        left: &[(Column, InputId)],
    ) {
        self.own_reference(by);
        self.own_unknown(offset.0, Unknown::Offset);
        self.expect(parts, Dimension::Pressure);
        let mut form = self.shown(parts, offset);
        self.columns(&mut form, left);
        self.equation(Role::Reference(by.0), form, 1.0);
    }

    /// Allows the sensor's zero error to be what the inputs add up to (zero, give or take): used only where the
    /// measured equations leave the shift open, and in the check of consistency.
    pub fn allow_zero(&mut self, parts: &[InputId]) {
        self.expect(parts, Dimension::Pressure);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(Case::ZERO));
        for id in parts {
            form.add(-1.0, Var::Input(id.0));
            if let Some(input) = self.inputs.get_mut(id.0) {
                input.assumed = true;
            }
        }
        self.equation(Role::Allowance, form, 1.0);
    }

    /// States how fast a level moves, where two readings do not tell.
    pub fn rate(&mut self, level: LevelId, velocity: InputId) {
        self.own_unknown(level.0, Unknown::Level);
        self.expect(&[velocity], Dimension::Velocity);
        let rate = self.rate_of(level);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(rate));
        form.add(-1.0, Var::Input(velocity.0));
        self.equation(Role::State, form, WATER * 60.0);
    }

    /// States an input anew, as what was measured better since. It must be of the same kind of quantity.
    pub fn restate(&mut self, id: InputId, input: Input) {
        self.expect(&[id], input.dimension);
        if let Some(place) = self.inputs.get_mut(id.0) {
            *place = input;
        }
    }

    /// Supposes that the offset a state of the unit carries is known.
    pub fn offset_is(&mut self, offset: OffsetId, known: InputId) {
        self.own_unknown(offset.0, Unknown::Offset);
        self.expect(&[known], Dimension::Pressure);
        let mut form = Form::default();
        form.add(1.0, Var::Unknown(offset.0));
        form.add(-1.0, Var::Input(known.0));
        self.equation(Role::State, form, 1.0);
    }

    /// Returns an input of this case.
    #[must_use]
    pub fn input_named(&self, id: InputId) -> Option<&Input> {
        self.inputs.get(id.0)
    }

    /// Returns the standard uncertainty of an input that is a length.
    #[must_use]
    pub fn standard_length(&self, id: InputId) -> Option<uom::si::f64::Length> {
        match self.input_named(id)?.standard() {
            super::Amount::Length(standard) => Some(standard),
            _ => None,
        }
    }

    /// Returns what a reference was called.
    #[must_use]
    pub fn reference_named(&self, id: ReferenceId) -> Option<&str> {
        self.references.get(id.0).map(String::as_str)
    }

    /// Returns the references in the order they were added.
    pub fn references(&self) -> impl Iterator<Item = (ReferenceId, &str)> {
        self.references.iter().enumerate().map(|(place, label)| (ReferenceId(place), label.as_str()))
    }

    pub(super) fn verify(&self) -> Result<(), EvidenceError> {
        self.inputs.iter().try_for_each(Input::verify)?;
        if let Some(fault) = &self.fault {
            return Err(fault.clone());
        }
        self.columns.iter().try_for_each(|column| self.verify_column(*column))?;
        let told = |role| matches!(role, Role::Reading | Role::Reference(_));
        if self.equations.iter().any(|equation| told(equation.role)) {
            Ok(())
        } else {
            Err(EvidenceError::NoEvidence)
        }
    }

    pub(super) fn owns(&self, column: Column) -> bool {
        let ([density, gravity], gas, numbers) = column.inputs();
        let is =
            |id: InputId, dimension| self.inputs.get(id.0).is_some_and(|input| input.dimension == dimension);
        is(density, Dimension::Density)
            && is(gravity, Dimension::Acceleration)
            && gas.is_none_or(|id| is(id, Dimension::Density))
            && numbers.into_iter().flatten().all(|id| is(id, Dimension::Ratio))
    }

    pub(super) fn verify_column(&self, column: Column) -> Result<(), EvidenceError> {
        let value = |id: InputId| self.inputs.get(id.0).map_or(f64::NAN, |input| input.value);
        let ([density, gravity], gas, numbers) = column.inputs();
        let excess = value(density) - gas.map_or(0.0, value);
        let near_one = numbers.into_iter().flatten().all(|id| value(id) > 0.0);
        let presses = excess > 0.0 && value(gravity) > 0.0 && near_one;
        if presses { Ok(()) } else { Err(EvidenceError::NoHead) }
    }

    fn shown(&self, parts: &[InputId], offset: OffsetId) -> Form {
        let mut form = Form::default();
        parts.iter().for_each(|id| form.add(1.0, Var::Input(id.0)));
        form.add(-1.0, Var::Unknown(Case::ZERO));
        form.add(-1.0, Var::Unknown(offset.0));
        form
    }

    fn columns(&mut self, form: &mut Form, columns: &[(Column, InputId)]) {
        for (column, height) in columns {
            self.own_column(*column);
            self.expect(&[*height], Dimension::Length);
            column.press(form, -1.0, &[Var::Input(height.0)]);
        }
    }

    fn rate_of(&mut self, level: LevelId) -> usize {
        if let Some((_, rate)) = self.rates.iter().find(|(of, _)| *of == level) {
            return *rate;
        }
        let rate = self.unknown(Unknown::Rate);
        self.rates.push((level, rate));
        rate
    }

    fn unknown(&mut self, unknown: Unknown) -> usize {
        self.unknowns.push(unknown);
        self.unknowns.len() - 1
    }

    pub(super) fn equation(&mut self, role: Role, form: Form, worth: f64) {
        self.equations.push(Equation { role, form, worth });
    }

    /// Remembers the first misuse, so that building stays free of questions and solving refuses.
    fn own_unknown(&mut self, place: usize, kind: Unknown) {
        if self.unknowns.get(place) != Some(&kind) {
            self.fault.get_or_insert(EvidenceError::Foreign);
        }
    }

    pub(super) fn own_reference(&mut self, id: ReferenceId) {
        if id.0 >= self.references.len() {
            self.fault.get_or_insert(EvidenceError::Foreign);
        }
    }

    pub(super) fn own_column(&mut self, column: Column) {
        let ([density, gravity], gas, numbers) = column.inputs();
        self.expect(&[density], Dimension::Density);
        self.expect(&[gravity], Dimension::Acceleration);
        gas.iter().for_each(|id| self.expect(&[*id], Dimension::Density));
        numbers.iter().flatten().for_each(|id| self.expect(&[*id], Dimension::Ratio));
        if !self.columns.contains(&column) {
            self.columns.push(column);
        }
    }

    pub(super) fn expect(&mut self, ids: &[InputId], dimension: Dimension) {
        for id in ids {
            let fault = match self.inputs.get(id.0) {
                None => Some(EvidenceError::Foreign),
                Some(input) if input.dimension != dimension => {
                    Some(EvidenceError::WrongKind { label: input.label.clone() })
                }
                Some(_) => None,
            };
            if let Some(fault) = fault {
                self.fault.get_or_insert(fault);
            }
        }
    }
}

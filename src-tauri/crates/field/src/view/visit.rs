//! A visit on the screen.

use domain::sketch::Drawing;
use domain::visit::{Choice, Key, PieceKind, Step, Timing};
use serde::{Deserialize, Serialize};

use super::{
    FivePointView, HistoryView, LeftView, Level3, MeasureNextView, ReviewPart, ShiftView, SigningView,
    SlipView, VerdictView,
};

/// How grave a message is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Good to know.
    Note,
    /// Go on if you must: a reason may be asked for.
    Warning,
    /// Cannot go on like this.
    Refusal,
    /// Can hurt someone.
    Danger,
}

/// Something said to the person: what happened and what to do next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Message {
    /// A stable word for it.
    pub code: String,
    /// How grave it is, which decides its sign and colour.
    pub grade: Grade,
    /// What happened or what is so, in whole sentences; never empty.
    pub text: String,
    /// What to do next; may be empty when the sentence says it.
    pub remedy: String,
    /// Where a reason for going on can be given (a text field), if one is wanted.
    pub reason: Option<Box<FieldView>>,
}

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum FieldKind {
    /// A length as people write it: number pad with feet, inch and metre marks.
    Length,
    /// A reading in the instrument's unit: number pad, sign, big.
    Reading,
    /// A current in mA: number pad, big.
    Current,
    /// A plain number with the unit shown: number pad.
    Number,
    /// A temperature: number pad with degree marks.
    Temperature,
    /// Words: the phone's own keyboard.
    Text,
    /// One of a few.
    Choice,
}

/// One of a few choices.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct OptionView {
    /// What is sent back as the text of the answer.
    pub value: String,
    /// The choice it stands for, labelled from the pages' text table; none for data such as a tape.
    pub choice: Option<Choice>,
    /// The label where the choice is data.
    pub label: String,
    /// True for the one that stands as the answer.
    pub chosen: bool,
}

/// A reading of a doubtful text: tapping it puts that text in place of what was typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Which {
    /// The text to send.
    pub text: String,
    /// How it reads, in both systems.
    pub label: String,
}

/// One thing asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct FieldView {
    /// What is asked.
    pub key: Key,
    /// For which piece of evidence; 0 for none.
    pub piece: u32,
    /// In which row.
    pub row: u32,
    /// What it takes, which decides between pad, keyboard and buttons.
    pub kind: FieldKind,
    /// The label where it is data (a safety item); empty where the pages' text table has it.
    pub label: String,
    /// The unit beside the number; may be empty.
    pub unit: String,
    /// What stands there now, as typed or as the chosen value; empty where nothing does.
    pub text: String,
    /// How it was read: the same in the other system, or the level it means; empty while it is not.
    pub echo: String,
    /// What is wrong or doubtful with it; none while nothing is.
    pub problem: Option<Message>,
    /// What a doubtful text may mean, to choose between; empty where it is plain.
    pub which: Vec<Which>,
    /// What may be chosen, or put in by one touch; empty where nothing is offered.
    pub options: Vec<OptionView>,
    /// True when the step cannot be left without it.
    pub required: bool,
}

/// A line of the nameplate beside the register's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PlateLine {
    /// The name of the line: `Tag`, `Serial number`.
    pub what: String,
    /// What the register says, with its unit; empty where it says nothing.
    pub register: String,
    /// What was read off the plate; empty where nothing was yet, or is not asked.
    pub plate: String,
}

/// One piece of evidence on the screen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PieceView {
    /// Its number in this visit, from 1; never used twice.
    pub id: u32,
    /// Which kind of evidence it is.
    pub kind: PieceKind,
    /// Before or after the trim.
    pub timing: Timing,
    /// What it is called here; empty where the pages' text table has it.
    pub name: String,
    /// What it is, in a line; empty where the pages' text table has it.
    pub help: String,
    /// What it asks, in the order of the screen.
    pub fields: Vec<FieldView>,
    /// What it says so far, in a line; empty while it says nothing.
    pub says: String,
    /// What is to be said about it, with a field where a reason is wanted; may be empty.
    pub messages: Vec<Message>,
}

/// A kind of evidence that can be added here.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct OfferView {
    /// Which kind of evidence.
    pub kind: PieceKind,
    /// Before or after the trim.
    pub timing: Timing,
    /// What it is called here; empty where the pages' text table has it.
    pub name: String,
    /// What it is, in a line; empty where the pages' text table has it.
    pub help: String,
    /// Why it may not be taken here; empty when it may.
    pub not_here: String,
}

/// One step in the row of eight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct StepState {
    /// Which of the eight.
    pub step: Step,
    /// Everything it must hold is there.
    pub complete: bool,
    /// It can be opened now.
    pub open: bool,
}

/// The one main button.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct NextView {
    /// The step it leads to; none when it signs.
    pub to: Option<Step>,
    /// True when it can be pressed.
    pub ready: bool,
    /// What is still missing, in the order of the screen.
    pub missing: Vec<MissingView>,
}

/// One thing that is still missing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct MissingView {
    /// What is said of it.
    pub message: Message,
    /// Where a tap leads.
    pub leads: LeadsTo,
}

/// Where something that is missing is mended.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(tag = "to", rename_all = "snake_case")]
pub enum LeadsTo {
    /// To a question of this step, by the name that stands over its field.
    Question {
        /// What is asked.
        key: Key,
        /// For which piece of evidence; 0 for none.
        piece: u32,
        /// In which row.
        row: u32,
        /// The label where it is data (a safety item); empty where the pages' text table has it.
        label: String,
    },
    /// To another step.
    Step {
        /// Which.
        step: Step,
    },
    /// Nowhere: it is said on this page, at no single question.
    Here,
}

/// The running reminder of inhibited alarms.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Reminder {
    /// The sentence, with the time at which the inhibition runs out.
    pub text: String,
    /// Minutes left; negative when it ran out.
    pub minutes_left: i32,
}

/// The step on the screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct StepView {
    /// Which of the eight is shown.
    pub step: Step,
    /// Cautions that stand on top.
    pub cautions: Vec<Message>,
    /// The register beside the nameplate (Find).
    pub plate: Vec<PlateLine>,
    /// What is asked, in the order of the screen; what a piece of evidence asks stands with it.
    pub fields: Vec<FieldView>,
    /// What may be stated by one touch where everything is as usual.
    pub together: Option<TogetherView>,
    /// The evidence so far (Evidence), or the proof (As left).
    pub pieces: Vec<PieceView>,
    /// What can be added.
    pub offers: Vec<OfferView>,
    /// The three levels side by side (As found, As left).
    pub levels: Vec<Level3>,
    /// What to measure next (Evidence, Shift).
    pub measure_next: Option<MeasureNextView>,
    /// The installation to scale (Evidence, Shift, As left).
    pub sketch: Option<Drawing>,
    /// The shift (Shift, As left).
    pub shift: Option<ShiftView>,
    /// The five-point check (As found; As left after a trim).
    pub five_point: Option<FivePointView>,
    /// What is left over the span (Shift, As left).
    pub left: Option<LeftView>,
    /// The verdict (As left, Sign).
    pub verdict: Option<VerdictView>,
    /// The instrument's offset over the visits, today's last (Sign).
    pub history: Option<HistoryView>,
    /// The whole visit to read over (Sign).
    pub review: Vec<ReviewPart>,
    /// Slips the numbers give away, in what was typed on this step; on Shift those the shift rests on.
    pub slips: Vec<SlipView>,
    /// What is to be said about the step.
    pub messages: Vec<Message>,
    /// The one main button.
    pub next: NextView,
}

/// A visit on the screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct VisitView {
    /// The draft's id, by which it is changed.
    pub id: String,
    /// The instrument's tag, as the register writes it; never empty.
    pub tag: String,
    /// What the instrument serves, in the register's words; may be empty.
    pub service: String,
    /// The site's name in the register; may be empty.
    pub site: String,
    /// The eight steps, in their order.
    pub steps: Vec<StepState>,
    /// The step that is shown, with all that is on it.
    pub now: StepView,
    /// "Saved 10:42:07": said only after the commit.
    pub saved: String,
    /// The photos so far, where some can be added (As found, Evidence); none on other steps.
    pub photos: Option<String>,
    /// Who signs, and how that is confirmed (Sign); none on other steps, and where nobody said who works with the phone.
    pub signing: Option<SigningView>,
    /// Alarms inhibited until when.
    pub reminder: Option<Reminder>,
}

/// One thing a person did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(tag = "do", rename_all = "snake_case")]
pub enum Change {
    /// Typed or chose something.
    Answer {
        /// What is answered.
        key: Key,
        /// For which piece; 0 for none.
        piece: u32,
        /// In which row.
        row: u32,
        /// The text as typed, or the value of the option.
        text: String,
    },
    /// Added a piece of evidence.
    Add {
        /// Which.
        kind: PieceKind,
        /// Before or after the trim.
        timing: Timing,
    },
    /// Took a piece of evidence away.
    Remove {
        /// Its number.
        piece: u32,
    },
    /// Stated several answers by one touch, where nothing stood yet. Where the step is complete by that, the next one
    /// follows.
    Together {
        /// The answers, as they were shown.
        answers: Vec<StatedAnswer>,
    },
    /// Went to a step.
    Go {
        /// Which.
        step: Step,
    },
}

/// One answer stated among others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct StatedAnswer {
    /// What is answered.
    pub key: Key,
    /// In which row.
    pub row: u32,
    /// The text of the answer.
    pub text: String,
}

/// What may be stated by one touch, line by line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct TogetherView {
    /// What would be answered, line by line, in the order of the screen; two or more.
    pub lines: Vec<StatedView>,
    /// The step it leads on to; none where something else is still missing on this one.
    pub leads_to: Option<Step>,
}

/// One line of what may be stated.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct StatedView {
    /// What is answered, and how: this is what is sent back.
    pub answer: StatedAnswer,
    /// The label where it is data (a safety item); empty where the pages' text table has it.
    pub label: String,
    /// The choice it stands for; none for data such as a serial number.
    pub choice: Option<Choice>,
}

/// A way out that a refusal offers, as a button.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct Remedy {
    /// The words of the button.
    pub label: String,
    /// What pressing it does.
    pub change: Change,
}

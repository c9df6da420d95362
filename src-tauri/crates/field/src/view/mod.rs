//! What the screens are given: everything already decided, converted, rounded and worded, so that a screen
//! only shows. These structures are the whole border between the core and the pages; their TypeScript
//! types are written from here.
//!
//! No 64-bit integer and no picture byte crosses.

mod camera;
mod five_point;
mod history;
mod home;
mod labels;
mod left;
mod next_best;
mod pin;
mod plan;
mod record;
mod sending;
mod shift;
mod slip;
mod visit;

pub use camera::{CameraSource, CameraView, RecordedFrame};
pub use five_point::{AppliedOffer, CheckView, FivePointView, PointView};
pub use history::{HistoryRow, HistoryView};
pub use home::{
    AnswerLine, CodeLine, CodeOutcome, DraftLine, Hit, HomeView, InstrumentView, LinkView, ListsView,
    NearSite, NearView, Plate, RegisterReport, RowProblem, SignedLine,
};
pub use labels::{
    LabelFile, LabelOrder, LabelPlace, LabelPreview, LabelSheet, LabelSite, LabelsOf, LabelsView,
};
pub use left::{CorrectedView, LeftPoint, LeftView};
pub use next_best::{MeasureNextView, ProposalView, TargetView};
pub use pin::{Confirming, PinAsked, PinView, SigningView};
pub use plan::{PlanMove, PlanNumber, PlanPoint, PlanRange, PlanSensor, PlanView, PlanWay};
pub use record::{RecordView, ReviewLine, ReviewPart};
pub use sending::{
    BundleMade, BundleReport, EnrolStage, EnrolView, MayGoView, Network, ProgressView, SendButton, SendView,
    SpaceView, StatusView, WaitingLine,
};
pub use shift::{BudgetLine, Level3, ReferenceLine, ShiftState, ShiftView, VerdictView, WorkView};
pub use slip::{CauseView, SlipView};
pub use visit::{
    Change, FieldKind, FieldView, Grade, LeadsTo, Message, MissingView, NextView, OfferView, OptionView,
    PieceView, PlateLine, Remedy, Reminder, StatedAnswer, StatedView, StepState, StepView, TogetherView,
    VisitView, Which,
};

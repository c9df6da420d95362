//! From Rust types to the text of files.

use std::any::TypeId;
use std::collections::{BTreeMap, BTreeSet};

use anyhow::Context;
use field::view::{
    BundleMade, BundleReport, CameraView, Change, CodeOutcome, Confirming, EnrolView, Hit, HomeView,
    InstrumentView, LabelFile, LabelOrder, LabelPreview, LabelsView, LinkView, ListsView, Message, NearView,
    Network, PinView, PlanView, RecordView, RecordedFrame, RegisterReport, SendView, StatusView, TargetView,
    VisitView,
};
use ts_rs::{Config, TS, TypeVisitor};

/// Returns every generated file: its name, and its text.
///
/// The commands' answers and arguments are the roots; whatever they mention comes along.
///
/// # Errors
///
/// Says which type could not be written, or which holds a 64-bit integer, which JavaScript would round.
pub fn files() -> anyhow::Result<BTreeMap<String, String>> {
    // A 64-bit integer is given a name that cannot compile, so that it is found here and not on a phone.
    let config = Config::new().with_large_int(FORBIDDEN);
    let mut walk = Walk { config: &config, seen: BTreeSet::new(), files: BTreeMap::new(), failed: None };
    walk.root::<HomeView>();
    walk.root::<PinView>();
    walk.root::<RegisterReport>();
    walk.root::<CodeOutcome>();
    walk.root::<CameraView>();
    walk.root::<RecordedFrame>();
    walk.root::<Hit>();
    walk.root::<InstrumentView>();
    walk.root::<LinkView>();
    walk.root::<ListsView>();
    walk.root::<NearView>();
    walk.root::<VisitView>();
    walk.root::<TargetView>();
    walk.root::<Change>();
    walk.root::<Confirming>();
    walk.root::<RecordView>();
    walk.root::<PlanView>();
    walk.root::<LabelsView>();
    walk.root::<LabelOrder>();
    walk.root::<LabelFile>();
    walk.root::<LabelPreview>();
    walk.root::<SendView>();
    walk.root::<StatusView>();
    walk.root::<EnrolView>();
    walk.root::<BundleMade>();
    walk.root::<BundleReport>();
    walk.root::<Network>();
    walk.root::<Message>();
    if let Some(error) = walk.failed {
        return Err(error);
    }
    let mut files = walk.files;
    let index: String = files.keys().map(|file| index_line(file)).collect();
    files.insert("index.ts".to_owned(), format!("{NOTE}\n{index}"));
    Ok(files)
}

const FORBIDDEN: &str = "SixtyFourBitInteger";
const NOTE: &str = "// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.\n";

fn index_line(file: &str) -> String {
    let name = file.trim_end_matches(".ts");
    format!("export type {{ {name} }} from \"./{name}\";\n")
}

struct Walk<'a> {
    config: &'a Config,
    seen: BTreeSet<TypeId>,
    files: BTreeMap<String, String>,
    failed: Option<anyhow::Error>,
}

impl Walk<'_> {
    fn root<T: TS + 'static + ?Sized>(&mut self) {
        self.visit::<T>();
    }

    fn text<T: TS + 'static + ?Sized>(&self) -> anyhow::Result<String> {
        let name = T::name(self.config);
        let text =
            T::export_to_string(self.config).with_context(|| format!("the type {name} was not written"))?;
        anyhow::ensure!(
            !text.contains(FORBIDDEN),
            "the type {name} holds a 64-bit integer, which a page would round: use a smaller one or a text"
        );
        // The generator's own note names its tool; ours says what to do.
        let body = text.split_once('\n').map_or("", |(_, rest)| rest).trim();
        let body: String = body.lines().map(|line| format!("{}\n", line.trim_end())).collect();
        Ok(format!("{NOTE}\n{body}"))
    }
}

impl TypeVisitor for Walk<'_> {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        if self.failed.is_some() || !self.seen.insert(TypeId::of::<T>()) {
            return;
        }
        if T::output_path().is_some() {
            match self.text::<T>() {
                Ok(text) => {
                    self.files.insert(format!("{}.ts", T::ident(self.config)), text);
                }
                Err(error) => self.failed = Some(error),
            }
        }
        T::visit_dependencies(self);
    }
}

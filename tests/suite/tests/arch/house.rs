//! The house as it stands: members from `cargo metadata`, files from the work tree.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// One member of the workspace.
#[derive(Debug, Clone, Default)]
pub(crate) struct Member {
    /// Its folder, from the root.
    pub(crate) folder: String,
    /// What it needs to be built and run.
    pub(crate) needs: BTreeSet<String>,
    /// What its tests and benches need besides.
    pub(crate) tests_need: BTreeSet<String>,
    /// True when a bare `cargo test` takes it in.
    pub(crate) by_default: bool,
}

/// The members by name.
pub(crate) type Members = BTreeMap<String, Member>;

/// A file of the work tree: its path from the root, and its text.
#[derive(Debug, Clone)]
pub(crate) struct TextFile {
    pub(crate) path: String,
    pub(crate) text: String,
}

impl TextFile {
    /// A file that is not there, for showing a breach to a rule.
    pub(crate) fn invented(path: &str, text: &str) -> TextFile {
        TextFile { path: path.to_owned(), text: text.to_owned() }
    }
}

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// Reads the members. Asks for no dependency's own metadata, which a bare machine may not have for every
/// platform.
pub(crate) fn members() -> Members {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let all: Value = serde_json::from_slice(&output.stdout).unwrap();
    let defaults = texts(&all["workspace_default_members"]);
    let packages = all["packages"].as_array().unwrap();
    packages.iter().map(|package| (text(&package["name"]), member(package, &defaults))).collect()
}

fn member(package: &Value, defaults: &BTreeSet<String>) -> Member {
    let manifest = PathBuf::from(text(&package["manifest_path"]));
    let folder = manifest.parent().unwrap().strip_prefix(root()).unwrap().display().to_string();
    let mut member =
        Member { folder, by_default: defaults.contains(&text(&package["id"])), ..Member::default() };
    for dependency in package["dependencies"].as_array().unwrap() {
        let name = text(&dependency["name"]);
        let needs = if dependency["kind"] == "dev" { &mut member.tests_need } else { &mut member.needs };
        needs.insert(name);
    }
    member
}

fn texts(list: &Value) -> BTreeSet<String> {
    list.as_array().unwrap().iter().map(text).collect()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}

/// Folders that hold what was built, fetched or is kept by tools.
const NOT_OURS: [&str; 9] =
    [".git", "target", "artifacts", "node_modules", "dist", ".cache", "out", "__pycache__", ".svelte-kit"];

/// Returns every text file under a folder of the work tree, in the order of their paths.
pub(crate) fn text_files(folder: &str) -> Vec<TextFile> {
    let mut found = Vec::new();
    collect(&root().join(folder), &mut found);
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

/// Returns every Rust file under a folder.
pub(crate) fn rust_files(folder: &str) -> Vec<TextFile> {
    text_files(folder).into_iter().filter(|file| file.path.ends_with(".rs")).collect()
}

fn collect(folder: &Path, found: &mut Vec<TextFile>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    for entry in entries {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_symlink() || NOT_OURS.contains(&name.as_str()) {
            continue;
        }
        if path.is_dir() {
            collect(&path, found);
        } else if let Ok(text) = String::from_utf8(std::fs::read(&path).unwrap()) {
            let path = path.strip_prefix(root()).unwrap().display().to_string();
            found.push(TextFile { path, text });
        }
    }
}

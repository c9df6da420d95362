//! What may cross the border to the pages. No picture byte does: on a phone a command's arguments travel as
//! JSON, where a photo is several times its size. No 64-bit integer does: the pages' numbers cannot hold one.

use syn::visit::{self, Visit};
use syn::{Fields, GenericArgument, Item, ReturnType, Type};

use crate::house::{TextFile, rust_files, text_files};
use crate::source::parse;

/// Types that carry bytes or whole pictures.
const CARRIES_BYTES: [&str; 12] = [
    "Bytes",
    "BytesMut",
    "ByteBuf",
    "InvokeBody",
    "InvokeResponseBody",
    "Request",
    "Response",
    "DynamicImage",
    "ImageBuffer",
    "GrayImage",
    "RgbImage",
    "RgbaImage",
];

/// Integers that a page's number cannot hold.
const TOO_WIDE: [&str; 6] = ["u64", "i64", "u128", "i128", "usize", "isize"];

/// What a type was found to carry.
#[derive(Default)]
struct Carried(Vec<String>);

impl<'ast> Visit<'ast> for Carried {
    fn visit_type_slice(&mut self, slice: &'ast syn::TypeSlice) {
        self.sequence_of(&slice.elem);
        visit::visit_type_slice(self, slice);
    }

    fn visit_type_array(&mut self, array: &'ast syn::TypeArray) {
        self.sequence_of(&array.elem);
        visit::visit_type_array(self, array);
    }

    fn visit_generic_argument(&mut self, argument: &'ast GenericArgument) {
        if let GenericArgument::Type(inner) = argument {
            self.sequence_of(inner);
        }
        visit::visit_generic_argument(self, argument);
    }

    fn visit_path_segment(&mut self, segment: &'ast syn::PathSegment) {
        let name = segment.ident.to_string();
        if CARRIES_BYTES.contains(&name.as_str()) || TOO_WIDE.contains(&name.as_str()) {
            self.0.push(name);
        }
        visit::visit_path_segment(self, segment);
    }
}

impl Carried {
    fn sequence_of(&mut self, element: &Type) {
        if matches!(element, Type::Path(path) if path.path.is_ident("u8")) {
            self.0.push("bytes".to_owned());
        }
    }
}

fn carried(what: &Type) -> Vec<String> {
    let mut carried = Carried::default();
    carried.visit_type(what);
    carried.0
}

/// The commands of a file, by the attribute that makes them so.
fn commands(file: &TextFile) -> Vec<syn::ItemFn> {
    let is_command = |item: &syn::ItemFn| {
        let last =
            |attribute: &syn::Attribute| attribute.path().segments.last().map(|part| part.ident.to_string());
        item.attrs.iter().any(|attribute| last(attribute).as_deref() == Some("command"))
    };
    let items = parse(&file.path, &file.text).items.into_iter();
    items
        .filter_map(|item| if let Item::Fn(item) = item { Some(item) } else { None })
        .filter(is_command)
        .collect()
}

fn breaches_of_command(command: &syn::ItemFn) -> Vec<String> {
    let name = &command.sig.ident;
    let mut found = Vec::new();
    for input in &command.sig.inputs {
        if let syn::FnArg::Typed(input) = input {
            found.extend(carried(&input.ty).into_iter().map(|what| format!("{name} takes {what}")));
        }
    }
    match &command.sig.output {
        ReturnType::Type(_, output) if is_result_with_message(output) => {
            found.extend(carried(output).into_iter().map(|what| format!("{name} returns {what}")));
        }
        _ => found.push(format!("{name} does not return Result<_, Message>")),
    }
    found
}

fn is_result_with_message(output: &Type) -> bool {
    let Type::Path(path) = output else { return false };
    let Some(last) = path.path.segments.last() else { return false };
    let syn::PathArguments::AngleBracketed(arguments) = &last.arguments else {
        return last.ident == "Answer";
    };
    let error = arguments.args.last();
    let named_message = |error: &GenericArgument| {
        matches!(error, GenericArgument::Type(Type::Path(path))
            if path.path.segments.last().is_some_and(|part| part.ident == "Message"))
    };
    last.ident == "Answer" || (last.ident == "Result" && error.is_some_and(named_message))
}

/// Breaches in the structures the pages are given.
fn breaches_of_views(file: &TextFile) -> Vec<String> {
    let mut found = Vec::new();
    for item in parse(&file.path, &file.text).items {
        let (name, fields): (_, Vec<Fields>) = match item {
            Item::Struct(item) => (item.ident, vec![item.fields]),
            Item::Enum(item) => {
                (item.ident, item.variants.into_iter().map(|variant| variant.fields).collect())
            }
            _ => continue,
        };
        for field in fields.iter().flatten() {
            found.extend(carried(&field.ty).into_iter().map(|what| format!("{name} carries {what}")));
        }
    }
    found
}

#[test]
fn no_command_takes_or_returns_picture_bytes() {
    let all: Vec<_> = rust_files("src-tauri/src").iter().flat_map(commands).collect();
    assert!(all.len() >= 15, "only {} commands were found in the shell", all.len());
    let found: Vec<_> = all.iter().flat_map(breaches_of_command).collect();
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn no_view_carries_picture_bytes_or_wide_integers() {
    let views = rust_files("src-tauri/crates/field/src/view");
    assert!(views.len() >= 4, "the views were not found");
    assert_eq!(views.iter().flat_map(breaches_of_views).collect::<Vec<_>>(), Vec::<String>::new());
    let types = text_files("ui/src/api/types");
    assert!(types.len() >= 30, "the pages' types were not found");
    let wide = types.iter().filter(|file| file.text.contains("bigint") || file.text.contains("Uint8Array"));
    assert_eq!(wide.map(|file| file.path.clone()).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn bytes_in_a_command_are_found() {
    for (text, breach) in [
        ("#[tauri::command] async fn a(p: Vec<u8>) -> Result<(), Message> { b }", "a takes bytes"),
        ("#[command] async fn a(p: &[u8]) -> Result<(), Message> { b }", "a takes bytes"),
        (
            "#[tauri::command(rename_all = \"snake_case\")] fn a(p: [u8; 4]) -> Result<(), Message> { b }",
            "a takes bytes",
        ),
        ("#[tauri::command] fn a(p: Option<Box<[u8]>>) -> Result<(), Message> { b }", "a takes bytes"),
        ("#[tauri::command] fn a() -> Result<Vec<u8>, Message> { b }", "a returns bytes"),
        ("#[tauri::command] fn a() -> Result<tauri::ipc::Response, Message> { b }", "a returns Response"),
        (
            "#[tauri::command] fn a(p: tauri::ipc::Request<'_>) -> Result<(), Message> { b }",
            "a takes Request",
        ),
        ("#[tauri::command] fn a(size: u64) -> Result<(), Message> { b }", "a takes u64"),
        ("#[tauri::command] fn a() -> String { b }", "a does not return Result<_, Message>"),
        ("#[tauri::command] fn a() -> Result<(), String> { b }", "a does not return Result<_, Message>"),
    ] {
        let file = TextFile::invented("src-tauri/src/invented.rs", text);
        let found: Vec<_> = commands(&file).iter().flat_map(breaches_of_command).collect();
        assert_eq!(found, [breach], "{text}");
    }
    let plain = "fn not_a_command(p: Vec<u8>) {} #[tauri::command] fn a(t: String) -> Result<Vec<Hit>, Message> { b }";
    let file = TextFile::invented("src-tauri/src/invented.rs", plain);
    assert!(commands(&file).iter().flat_map(breaches_of_command).next().is_none());
}

#[test]
fn bytes_in_a_view_are_found() {
    let text = "pub struct A { p: Option<Vec<u8>>, n: i64 } pub enum B { C { d: Vec<u8> }, E(String) }";
    let file = TextFile::invented("view/invented.rs", text);
    assert_eq!(breaches_of_views(&file), ["A carries bytes", "A carries i64", "B carries bytes"]);
}

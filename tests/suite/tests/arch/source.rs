//! Reads a Rust file: which names it uses, and how long its functions are. Tests within it are passed over.

use proc_macro2::{TokenStream, TokenTree};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, Item, ItemUse, UseTree};

/// A function and the lines from its signature to its closing brace.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Function {
    pub(crate) name: String,
    pub(crate) lines: usize,
}

/// What a file was found to use.
#[derive(Debug, Default)]
pub(crate) struct Uses {
    /// Paths, as written or imported: `std::fs::File`.
    pub(crate) paths: Vec<String>,
    /// Methods called: `sin`.
    pub(crate) methods: Vec<String>,
    /// Functions with a body.
    pub(crate) functions: Vec<Function>,
}

/// Reads a file's text; the path is for the message only.
pub(crate) fn parse(path: &str, text: &str) -> syn::File {
    syn::parse_file(text).unwrap_or_else(|error| panic!("{path} cannot be read as Rust: {error}"))
}

/// Returns what a file uses outside its tests.
pub(crate) fn uses(path: &str, text: &str) -> Uses {
    let mut uses = Uses::default();
    uses.visit_file(&parse(path, text));
    uses
}

/// Is this item there for tests only?
fn for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let list = attribute.meta.require_list();
        attribute.path().is_ident("test")
            || (attribute.path().is_ident("cfg") && list.is_ok_and(|list| list.tokens.to_string() == "test"))
    })
}

impl<'ast> Visit<'ast> for Uses {
    fn visit_item(&mut self, item: &'ast Item) {
        let attributes = match item {
            Item::Mod(item) => &item.attrs,
            Item::Fn(item) => &item.attrs,
            Item::Impl(item) => &item.attrs,
            Item::Use(item) => &item.attrs,
            _ => &Vec::new(),
        };
        if !for_tests(attributes) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_use(&mut self, item: &'ast ItemUse) {
        flatten("", &item.tree, &mut self.paths);
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let parts: Vec<String> = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
        self.paths.push(parts.join("::"));
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, called: &'ast syn::Macro) {
        // What stands inside a macro call is tokens only, so paths are put together by hand.
        paths_in_tokens(called.tokens.clone(), &mut self.paths);
        visit::visit_macro(self, called);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        self.methods.push(call.method.to_string());
        visit::visit_expr_method_call(self, call);
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.note(&item.sig, &item.block);
        visit::visit_item_fn(self, item);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.note(&item.sig, &item.block);
        visit::visit_impl_item_fn(self, item);
    }
}

impl Uses {
    fn note(&mut self, signature: &syn::Signature, block: &syn::Block) {
        let lines = block.span().end().line - signature.span().start().line + 1;
        self.functions.push(Function { name: signature.ident.to_string(), lines });
    }
}

fn flatten(before: &str, tree: &UseTree, paths: &mut Vec<String>) {
    let join = |name: &str| if before.is_empty() { name.to_owned() } else { format!("{before}::{name}") };
    match tree {
        UseTree::Path(path) => flatten(&join(&path.ident.to_string()), &path.tree, paths),
        UseTree::Name(name) => paths.push(join(&name.ident.to_string())),
        UseTree::Rename(rename) => paths.push(join(&rename.ident.to_string())),
        UseTree::Glob(_) => paths.push(join("*")),
        UseTree::Group(group) => {
            group.items.iter().for_each(|item| flatten(before, item, paths));
        }
    }
}

fn paths_in_tokens(tokens: TokenStream, paths: &mut Vec<String>) {
    let mut path = String::new();
    for token in tokens {
        match token {
            TokenTree::Ident(ident) if path.is_empty() || path.ends_with("::") => {
                path.push_str(&ident.to_string());
            }
            TokenTree::Punct(punct) if punct.as_char() == ':' && !path.is_empty() => path.push(':'),
            other => {
                paths.extend((!path.is_empty()).then(|| std::mem::take(&mut path)));
                match other {
                    TokenTree::Group(group) => paths_in_tokens(group.stream(), paths),
                    TokenTree::Ident(ident) => path = ident.to_string(),
                    _ => {}
                }
            }
        }
    }
    paths.extend((!path.is_empty()).then_some(path));
}

#[test]
fn names_are_found_wherever_they_stand() {
    let text = r#"
        use std::{io, fs::{self, File as Paper}};
        fn a() { let _ = std::env::var("X"); format!("{:?}", std::time::Instant::now()); 1.0_f64.sin(); }
        #[cfg(test)] mod tests { use std::net::TcpStream; }
        #[test] fn b() { std::process::exit(0) }
    "#;
    let uses = uses("invented.rs", text);
    let has = |path: &str| uses.paths.iter().any(|used| used == path);
    for path in ["std::io", "std::fs::self", "std::fs::File", "std::env::var", "std::time::Instant::now"] {
        assert!(has(path), "{path} not in {:?}", uses.paths);
    }
    assert!(!has("std::net::TcpStream") && !has("std::process::exit"));
    assert_eq!(uses.methods, ["sin"]);
    assert_eq!(uses.functions, [Function { name: "a".to_owned(), lines: 1 }]);
}

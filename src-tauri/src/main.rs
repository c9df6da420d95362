//! The desktop stand-in's entry; phones enter through the library.

fn main() {
    headmark_shell::run();
}

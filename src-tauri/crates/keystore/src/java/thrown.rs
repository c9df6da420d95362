//! What Java threw, as plain words.

use jni::JNIEnv;
use jni::errors::Error;
use jni::objects::{JObject, JString};

/// An exception and what caused it, the last cause last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Thrown(pub(crate) Vec<Link>);

/// One of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Link {
    /// The name of its class, then of the classes above it.
    pub(crate) classes: Vec<String>,
    /// What it says; empty for nothing.
    pub(crate) message: String,
}

/// A circle of causes ends somewhere.
const MOST_CAUSES: usize = 5;
const MOST_CLASSES: usize = 8;

/// Local references for the causes and their classes, and for one text at a time.
const FRAME: i32 = 64;
const FRAME_OF_A_TEXT: i32 = 8;

/// Takes what is thrown just now, and clears it; none where nothing is.
pub(crate) fn take(env: &mut JNIEnv<'_>) -> Option<Thrown> {
    let thrown = env.exception_occurred().ok().filter(|thrown| !thrown.is_null());
    // Nothing may be asked while something is thrown.
    clear(env);
    let thrown = JObject::from(thrown?);
    let read = env.with_local_frame(FRAME, |env| Ok::<_, Error>(read(env, &thrown)));
    Some(read.inspect_err(|_| clear(env)).unwrap_or(Thrown(Vec::new())))
}

/// Clears what is thrown, if anything is.
pub(crate) fn clear(env: &JNIEnv<'_>) {
    if let Err(error) = env.exception_clear() {
        tracing::warn!(%error, "an exception was not cleared");
    }
}

fn read(env: &mut JNIEnv<'_>, thrown: &JObject<'_>) -> Thrown {
    let mut links = vec![link(env, thrown)];
    let mut cause = object(env, thrown, "getCause", "()Ljava/lang/Throwable;");
    while let Some(caused) = cause.filter(|_| links.len() < MOST_CAUSES) {
        links.push(link(env, &caused));
        cause = object(env, &caused, "getCause", "()Ljava/lang/Throwable;");
    }
    Thrown(links)
}

fn link(env: &mut JNIEnv<'_>, thrown: &JObject<'_>) -> Link {
    let mut classes = Vec::new();
    let mut next = object(env, thrown, "getClass", "()Ljava/lang/Class;");
    while let Some(class) = next.filter(|_| classes.len() < MOST_CLASSES) {
        classes.extend(text(env, &class, "getName"));
        next = object(env, &class, "getSuperclass", "()Ljava/lang/Class;");
    }
    Link { classes, message: text(env, thrown, "getMessage").unwrap_or_default() }
}

fn text(env: &mut JNIEnv<'_>, of: &JObject<'_>, method: &str) -> Option<String> {
    let told = env.with_local_frame(FRAME_OF_A_TEXT, |env| {
        let text = JString::from(env.call_method(of, method, "()Ljava/lang/String;", &[])?.l()?);
        if text.is_null() { Ok(None) } else { env.get_string(&text).map(|text| Some(String::from(text))) }
    });
    told.inspect_err(|_: &Error| clear(env)).ok().flatten()
}

/// Asks an object for another. What throws on the way of telling what was thrown is nothing.
fn object<'l>(env: &mut JNIEnv<'l>, of: &JObject<'_>, method: &str, signature: &str) -> Option<JObject<'l>> {
    let given = env.call_method(of, method, signature, &[]).and_then(|given| given.l());
    given.inspect_err(|_| clear(env)).ok().filter(|given| !given.is_null())
}

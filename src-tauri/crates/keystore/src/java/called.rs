//! Calls into Java that leave nothing thrown.

use jni::JNIEnv;
use jni::errors::Error;
use jni::objects::{JByteArray, JObject, JValue};
use zeroize::Zeroizing;

use super::meaning::Failed;
use super::thrown;

/// A thread's way into Java, for as long as a frame of local references lasts.
pub(super) struct Java<'a, 'l>(&'a mut JNIEnv<'l>);

/// A method's name and its signature in Java's own spelling.
pub(super) type Method<'a> = (&'a str, &'a str);

impl<'a, 'l> Java<'a, 'l> {
    pub(super) fn through(env: &'a mut JNIEnv<'l>) -> Java<'a, 'l> {
        Java(env)
    }

    /// Takes what was thrown out of the thread, where the bridge says that something went wrong.
    fn caught<T>(&mut self, done: Result<T, Error>) -> Result<T, Failed> {
        done.map_err(|error| thrown::take(self.0).map_or_else(|| error.into(), Failed::Thrown))
    }

    /// Calls a method that gives an object, or null.
    pub(super) fn ask(
        &mut self,
        of: &JObject<'_>,
        (name, signature): Method<'_>,
        with: &[JValue<'_, '_>],
    ) -> Result<JObject<'l>, Failed> {
        let given = self.0.call_method(of, name, signature, with).and_then(|given| given.l());
        self.caught(given)
    }

    /// Calls a method that gives nothing.
    pub(super) fn tell(
        &mut self,
        of: &JObject<'_>,
        (name, signature): Method<'_>,
        with: &[JValue<'_, '_>],
    ) -> Result<(), Failed> {
        let told = self.0.call_method(of, name, signature, with).and_then(|given| given.v());
        self.caught(told)
    }

    /// Calls a class's own method that gives an object.
    pub(super) fn ask_class(
        &mut self,
        class: &str,
        (name, signature): Method<'_>,
        with: &[JValue<'_, '_>],
    ) -> Result<JObject<'l>, Failed> {
        let given = self.0.call_static_method(class, name, signature, with).and_then(|given| given.l());
        self.caught(given)
    }

    /// Makes an object.
    pub(super) fn make(
        &mut self,
        class: &str,
        signature: &str,
        with: &[JValue<'_, '_>],
    ) -> Result<JObject<'l>, Failed> {
        let made = self.0.new_object(class, signature, with);
        self.caught(made)
    }

    pub(super) fn text(&mut self, text: &str) -> Result<JObject<'l>, Failed> {
        let made = self.0.new_string(text).map(JObject::from);
        self.caught(made)
    }

    /// Makes an array of one text.
    pub(super) fn texts(&mut self, text: &str) -> Result<JObject<'l>, Failed> {
        let text = self.text(text)?;
        let made = self.0.new_object_array(1, "java/lang/String", text).map(JObject::from);
        self.caught(made)
    }

    pub(super) fn bytes(&mut self, bytes: &[u8]) -> Result<JByteArray<'l>, Failed> {
        let made = self.0.byte_array_from_slice(bytes);
        self.caught(made)
    }

    pub(super) fn read(&mut self, array: &JByteArray<'_>) -> Result<Zeroizing<Vec<u8>>, Failed> {
        let read = self.0.convert_byte_array(array).map(Zeroizing::new);
        self.caught(read)
    }

    /// Writes zeros over an array that held a secret. Java's collector may have left a copy where the array lay before.
    pub(super) fn wipe(&mut self, array: &JByteArray<'_>) -> Result<(), Failed> {
        let length = self.0.get_array_length(array);
        let length = self.caught(length)?;
        let zeros = vec![0; usize::try_from(length).unwrap_or_default()];
        let wiped = self.0.set_byte_array_region(array, 0, &zeros);
        self.caught(wiped)
    }
}

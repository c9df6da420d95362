//! The Java machine of these tests, and what they tell the stand-in.

use std::sync::{Arc, LazyLock};

use jni::objects::{JObject, JString, JValue};
use jni::{InitArgsBuilder, JNIVersion, JavaVM};
use keystore::java::{JavaKeyStore, Machine};

const STAND_IN: &str = "org/headmark/standin/StandIn";

/// A process has one machine. It checks every call that is made into it, and tells of what is wrong with one.
static VM: LazyLock<Arc<JavaVM>> = LazyLock::new(|| {
    let Ok(classes) = std::env::var("HEADMARK_STAND_IN") else {
        panic!("HEADMARK_STAND_IN names no folder of compiled classes: run `tests/run jvm`")
    };
    let arguments = InitArgsBuilder::new()
        .version(JNIVersion::V8)
        .option(format!("-Djava.class.path={classes}"))
        .option("-Xcheck:jni")
        .build()
        .unwrap();
    let vm = JavaVM::new(arguments).unwrap();
    vm.attach_current_thread().unwrap().call_static_method(STAND_IN, "begin", "()V", &[]).unwrap();
    Arc::new(vm)
});

pub(crate) fn vm() -> Arc<JavaVM> {
    Arc::clone(&VM)
}

/// The one machine.
pub(crate) struct Here;

impl Machine for Here {
    fn vm(&self) -> Result<Arc<JavaVM>, String> {
        Ok(vm())
    }
}

/// An alias of the stand-in's key store. Each test has its own.
#[derive(Clone, Copy)]
pub(crate) struct Alias(pub(crate) &'static str);

impl Alias {
    pub(crate) fn store(self) -> JavaKeyStore<Here> {
        JavaKeyStore::named(Here, "StandInKeyStore", self.0)
    }

    pub(crate) fn mood(self, mood: &str) {
        self.tell("mood", Some(mood));
    }

    pub(crate) fn spoil(self, how: &str) {
        self.tell("spoil", Some(how));
    }

    pub(crate) fn forget(self) {
        self.tell("forget", None);
    }

    /// Returns the words with which its keys were made, one after the other.
    pub(crate) fn made(self) -> Vec<String> {
        let mut env = VM.attach_current_thread().unwrap();
        let alias = env.new_string(self.0).unwrap();
        let signature = "(Ljava/lang/String;)Ljava/lang/String;";
        let made = env.call_static_method(STAND_IN, "made", signature, &[(&alias).into()]).unwrap();
        let made: JString<'_> = made.l().unwrap().into();
        let made = String::from(env.get_string(&made).unwrap());
        made.lines().map(str::to_owned).collect()
    }

    /// Puts a key there that is known.
    pub(crate) fn plant(self, key: &[u8; 32]) {
        let mut env = VM.attach_current_thread().unwrap();
        let (alias, key) = (env.new_string(self.0).unwrap(), env.byte_array_from_slice(key).unwrap());
        let with = [(&alias).into(), (&key).into()];
        env.call_static_method(STAND_IN, "plant", "(Ljava/lang/String;[B)V", &with).unwrap();
    }

    fn tell(self, what: &str, how: Option<&str>) {
        let mut env = VM.attach_current_thread().unwrap();
        let texts: Vec<JObject<'_>> = [Some(self.0), how]
            .into_iter()
            .flatten()
            .map(|text| env.new_string(text).unwrap().into())
            .collect();
        let with: Vec<JValue<'_, '_>> = texts.iter().map(Into::into).collect();
        let signature = format!("({})V", "Ljava/lang/String;".repeat(with.len()));
        env.call_static_method(STAND_IN, what, signature, &with).unwrap();
    }
}

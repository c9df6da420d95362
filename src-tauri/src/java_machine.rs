//! The Java machine that runs the app, as its window's thread knows it.
//!
//! The toolkit hands that thread's way into Java to whoever asks, and from there the machine is had without a line of
//! ours that handles a raw pointer. The price is that it comes a moment later: it is asked for at the start, and once
//! it has come it stays.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use keystore::java::{JavaVM, Machine};
use tauri::{AppHandle, Manager};

/// How long a command waits for it. Putting the app away waits for the command, and has two seconds.
const PATIENCE: Duration = Duration::from_secs(1);

/// The machine, once the window's thread has told it.
#[derive(Clone)]
pub(crate) struct JavaMachine {
    app: AppHandle,
    told: Arc<Told>,
}

#[derive(Default)]
struct Told {
    machine: Mutex<Option<Arc<JavaVM>>>,
    came: Condvar,
}

impl Told {
    fn machine(&self) -> MutexGuard<'_, Option<Arc<JavaVM>>> {
        self.machine.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl JavaMachine {
    /// Asks for the machine, and does not wait.
    pub(crate) fn of(app: &AppHandle) -> JavaMachine {
        let own = JavaMachine { app: app.clone(), told: Arc::default() };
        if let Err(why) = own.ask() {
            tracing::warn!(why, "the Java machine was not asked for yet");
        }
        own
    }

    fn ask(&self) -> Result<(), String> {
        let windows = self.app.webview_windows();
        let window = windows.values().next().ok_or("the app has no window just now")?;
        let told = Arc::clone(&self.told);
        let asked = window.with_webview(move |webview| {
            webview.jni_handle().exec(move |env, _, _| match env.get_java_vm() {
                Ok(machine) => {
                    *told.machine() = Some(Arc::new(machine));
                    told.came.notify_all();
                }
                Err(error) => tracing::warn!(%error, "the window's thread knows no Java machine"),
            });
        });
        asked.map_err(|error| error.to_string())
    }
}

impl Machine for JavaMachine {
    fn vm(&self) -> Result<Arc<JavaVM>, String> {
        if self.told.machine().is_none() {
            self.ask()?;
        }
        let held = self.told.machine();
        let waited = self.told.came.wait_timeout_while(held, PATIENCE, |machine| machine.is_none());
        let (held, _) = waited.unwrap_or_else(PoisonError::into_inner);
        held.clone().ok_or_else(|| "the window did not answer in time".to_owned())
    }
}

//! The shell: one window, one command, one scheme for photos.
//! Never a word of the trade, and nothing that another shell could not do the same way.
//! Invariant: a command runs off the main thread, so that the window always answers.

use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::{commands, error::Error};
use std::path::PathBuf;
use std::sync::{Arc, OnceLock};
use tauri::http::{Response, StatusCode, header};
use tauri::ipc::{InvokeBody, Request};
use tauri::{AppHandle, Manager, State, UriSchemeContext, UriSchemeResponder};

/// The open yard, or why it could not be opened: the window says so instead of not opening.
type Yard = Arc<OnceLock<Result<Book, Value>>>;

/// Opens the window on the yard.
///
/// # Panics
/// When the system gives no window: nothing can be shown then.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    let app = tauri::Builder::default()
        .manage(Yard::default())
        .invoke_handler(tauri::generate_handler![call])
        .register_asynchronous_uri_scheme_protocol("photo", photo)
        .setup(|app| {
            let yard = app.state::<Yard>();
            let _first = yard.set(open(app.handle()).map_err(|e| e.reply()));
            if let Some(Ok(book)) = yard.get() {
                commands::after_open(book);
            }
            Ok(())
        });
    #[allow(clippy::expect_used, reason = "without a window there is nowhere to say it")]
    app.run(tauri::generate_context!()).expect("the system gives no window");
}

fn open(app: &AppHandle) -> Result<Book, Error> {
    let folder = match for_trying("SHADEYARD_YARD") {
        Some(folder) => PathBuf::from(folder),
        None => app.path().app_data_dir().map_err(|e| Error::Bug(e.to_string()))?,
    };
    let clock = match for_trying("SHADEYARD_CLOCK") {
        Some(start) => Clock::running_from(&start)?,
        None => Clock::wall(),
    };
    commands::open(&folder, clock)
}

/// Where another yard or another hour can be tried: only in builds for trying.
fn for_trying(name: &str) -> Option<String> {
    if cfg!(debug_assertions) { std::env::var(name).ok() } else { None }
}

/// The one command. A photo's bytes come raw with the name in a header; all else is JSON.
#[tauri::command]
async fn call(yard: State<'_, Yard>, request: Request<'_>) -> Result<Value, Value> {
    let (name, ask, bytes) = match request.body() {
        InvokeBody::Raw(bytes) => {
            let name = request.headers().get("name").and_then(|v| v.to_str().ok()).unwrap_or_default();
            (name.to_owned(), Value::Null, Some(bytes.clone()))
        }
        InvokeBody::Json(body) => {
            let name = body.get("name").and_then(Value::as_str).unwrap_or_default();
            (name.to_owned(), body.get("request").cloned().unwrap_or_default(), None)
        }
    };
    let yard = Yard::clone(&yard);
    let work = move || with_book(&yard, |book| commands::dispatch(book, &name, ask, bytes));
    tauri::async_runtime::spawn_blocking(work)
        .await
        .unwrap_or_else(|fault| Err(Error::Bug(fault.to_string()).reply()))
}

fn with_book<T>(yard: &Yard, f: impl FnOnce(&Book) -> Result<T, Error>) -> Result<T, Value> {
    match yard.get() {
        Some(Ok(book)) => f(book).map_err(|e| e.reply()),
        Some(Err(why)) => Err(why.clone()),
        None => Err(Error::conflict("starting", json!({})).reply()),
    }
}

/// `photo://localhost/HASH.small`: never a path, only a hash and a size.
fn photo(
    context: UriSchemeContext<'_, tauri::Wry>,
    request: tauri::http::Request<Vec<u8>>,
    reply: UriSchemeResponder,
) {
    let name = request.uri().path().trim_start_matches('/').to_owned();
    let yard = Yard::clone(&context.app_handle().state::<Yard>());
    tauri::async_runtime::spawn_blocking(move || {
        let answer = match with_book(&yard, |book| commands::photo(book, &name)) {
            Ok((kind, bytes)) => Response::builder()
                .header(header::CONTENT_TYPE, kind)
                .header(header::CACHE_CONTROL, "max-age=31536000, immutable")
                .body(bytes),
            Err(_) => Response::builder().status(StatusCode::NOT_FOUND).body(Vec::new()),
        };
        if let Ok(answer) = answer {
            reply.respond(answer);
        }
    });
}

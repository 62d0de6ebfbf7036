//! Reading the files of a site, and none but those: names are relative, and lead nowhere outside the site's folder.

use super::at::At;
use super::log::{Log, Pos};
use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};

/// Largest file that is read. A room takes about 200 bytes, so this is some 40,000 rooms: ten times the largest site planned for.
const MOST_BYTES: u64 = 8 * 1024 * 1024;

/// The file that is read when a site is named by its folder.
pub const SITE_FILE: &str = "site.yaml";

/// A text that was read, under its index in the log.
pub(crate) struct Text {
    /// Index in the log.
    pub(crate) file: u32,
    /// What it says, without a byte order mark.
    pub(crate) text: String,
}

/// Texts that stand in place of what files hold, by their paths: those about to be written.
pub(crate) type Instead = BTreeMap<PathBuf, String>;

/// The site's own file; `path` is that file or its folder, which need not exist yet.
pub(crate) fn main_file(path: &Path) -> PathBuf {
    let is_file = path
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("yaml") || e.eq_ignore_ascii_case("yml"));
    if path.is_dir() || (!path.exists() && !is_file) {
        path.join(SITE_FILE)
    } else {
        path.to_path_buf()
    }
}

/// Reads the site's own file; `path` is that file or its folder. With it comes the folder that other files must be in.
pub(crate) fn read_main(path: &Path, instead: &Instead, log: &Log) -> Option<(PathBuf, Text)> {
    let file = if path.is_dir() {
        path.join(SITE_FILE)
    } else {
        path.to_path_buf()
    };
    let folder = file
        .parent()
        .map_or_else(|| PathBuf::from("."), Path::to_path_buf);
    let text = read(&file, instead, log, |why| whole_file(log, &file, why))?;
    Some((folder, text))
}

/// Reads a file that the command line names.
pub(crate) fn read_at(path: &Path, log: &Log) -> Option<Text> {
    read(path, &Instead::new(), log, |why| whole_file(log, path, why))
}

/// Reads a file of the site's folder that `name` names.
pub(crate) fn read_sibling(
    folder: &Path,
    name: &At<String>,
    instead: &Instead,
    log: &Log,
) -> Option<Text> {
    let relative = Path::new(&name.value);
    let outside = || {
        let hint = "name a file inside the site's folder, such as `rooms.csv`";
        log.error(
            "E102",
            name.pos,
            format!("`{}` leads out of the site's folder", name.value),
            hint,
        );
    };
    // A backslash or a drive is a way out on other systems: a site must read the same everywhere.
    let plain = relative
        .components()
        .all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    if !plain || name.value.contains(['\\', ':']) || name.value.is_empty() {
        outside();
        return None;
    }
    let path = folder.join(relative);
    let home = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    if let (Ok(real), Ok(home)) = (path.canonicalize(), home.canonicalize())
        && !real.starts_with(&home)
    {
        outside();
        return None;
    }
    read(&path, instead, log, |why| (name.pos, why))
}

fn whole_file(log: &Log, file: &Path, why: Why) -> (Pos, Why) {
    let file = log.add_source(file.to_path_buf(), "");
    (
        Pos {
            file,
            line: 0,
            column: 0,
        },
        why,
    )
}

/// Code, message and hint of a file that could not be read.
type Why = (&'static str, String, String);

fn read(path: &Path, instead: &Instead, log: &Log, at: impl Fn(Why) -> (Pos, Why)) -> Option<Text> {
    let text = instead.get(path).cloned().map_or_else(|| text_of(path), Ok);
    match text {
        Ok(text) => {
            let file = log.add_source(path.to_path_buf(), &text);
            Some(Text { file, text })
        }
        Err(why) => {
            let (pos, (code, message, hint)) = at(why);
            log.error(code, pos, message, hint);
            None
        }
    }
}

/// Reads a text that a person named, of up to `most` bytes; what is wrong with it is told of the file as a whole.
pub(crate) fn read_text(path: &Path, most: u64, log: &Log) -> Option<Text> {
    match bytes_of(path, most).and_then(|bytes| as_text(path, bytes)) {
        Ok(text) => {
            let file = log.add_source(path.to_path_buf(), &text);
            Some(Text { file, text })
        }
        Err(why) => told(path, why, log),
    }
}

/// The same of a file that is no text.
pub(crate) fn read_bytes(path: &Path, most: u64, log: &Log) -> Option<(u32, Vec<u8>)> {
    match bytes_of(path, most) {
        Ok(bytes) => Some((log.add_source(path.to_path_buf(), ""), bytes)),
        Err(why) => told(path, why, log),
    }
}

fn told<T>(path: &Path, why: Why, log: &Log) -> Option<T> {
    let (pos, (code, message, hint)) = whole_file(log, path, why);
    log.error(code, pos, message, hint);
    None
}

fn text_of(path: &Path) -> Result<String, Why> {
    as_text(path, bytes_of(path, MOST_BYTES)?)
}

fn bytes_of(path: &Path, most: u64) -> Result<Vec<u8>, Why> {
    let shown = path.display();
    let unreadable = |e: io::Error| {
        let why = match e.kind() {
            io::ErrorKind::NotFound => "it is not there".to_string(),
            kind => kind.to_string(),
        };
        let hint = "check the name, and that the file may be read";
        let message = format!("cannot read `{shown}`: {why}");
        ("E101", message, hint.to_string())
    };
    let metadata = path.metadata().map_err(unreadable)?;
    if !metadata.is_file() {
        return Err(("E101", format!("`{shown}` is not a file"), String::new()));
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|f| f.take(most + 1).read_to_end(&mut bytes))
        .map_err(unreadable)?;
    if bytes.len() as u64 > most {
        let hint = format!("files of up to {} MiB are read", most >> 20);
        return Err(("E103", format!("`{shown}` is too big"), hint));
    }
    Ok(bytes)
}

fn as_text(path: &Path, bytes: Vec<u8>) -> Result<String, Why> {
    let shown = path.display();
    let text = String::from_utf8(bytes).map_err(|e| {
        let line = e.as_bytes()[..e.utf8_error().valid_up_to()]
            .split(|b| *b == b'\n')
            .count();
        let hint = "save it as UTF-8, also called Unicode or `CSV UTF-8`";
        (
            "E104",
            format!("`{shown}` is not UTF-8 text (line {line})"),
            hint.to_string(),
        )
    })?;
    Ok(text
        .strip_prefix('\u{feff}')
        .map_or(text.clone(), str::to_string))
}

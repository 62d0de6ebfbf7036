//! Reading sites in tests: a problem fails the test with its whole text, and so does a warning.

use evenrun::input::read_site;
use evenrun::site::Site;
use std::fs;
use std::path::Path;

/// The site at a path from the root of the repository.
pub(crate) fn read_file(path: &str) -> Site {
    read(&Path::new(env!("CARGO_MANIFEST_DIR")).join(path))
}

/// The site written in `text`.
pub(crate) fn read_text(text: &str) -> Site {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let file = folder.path().join("site.yaml");
    fs::write(&file, text).expect("the folder can be written to");
    read(&file)
}

/// The college of the demo.
pub(crate) fn demo() -> Site {
    read_file("demo/larkfield")
}

fn read(path: &Path) -> Site {
    let reading = read_site(path).unwrap_or_else(|problems| panic!("{problems}"));
    let warnings: Vec<String> = reading.warnings.iter().map(ToString::to_string).collect();
    assert!(warnings.is_empty(), "{}", warnings.join("\n"));
    reading.site
}

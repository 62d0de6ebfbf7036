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

/// A site whose rooms stand in another order in their table: rotated by so many, and every second time backwards.
pub(crate) fn shuffled(site: &str, by: usize) -> Site {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(site);
    let folder = tempfile::tempdir().expect("a folder for the test");
    for entry in fs::read_dir(from).expect("the site is a folder") {
        let path = entry.expect("it can be listed").path();
        let text = fs::read_to_string(&path).expect("it can be read");
        let name = path.file_name().expect("it has a name");
        let text = if name == "rooms.csv" {
            let mut lines: Vec<&str> = text.lines().collect();
            lines[1..].rotate_left(by);
            if by % 2 == 1 {
                lines[1..].reverse();
            }
            lines.join("\n")
        } else {
            text
        };
        fs::write(folder.path().join(name), text).expect("the folder can be written to");
    }
    read(folder.path())
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

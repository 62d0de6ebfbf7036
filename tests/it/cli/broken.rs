//! Every broken fixture, through the program: `check` and `plan` say its code, end as they should, and nothing panics.

use super::{Folder, evenrun, json};
use std::fs;
use std::path::Path;

fn fixtures() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/broken");
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert!(!names.is_empty());
    names
}

#[test]
fn check_ends_with_1_for_errors_and_0_for_warnings() {
    for name in fixtures() {
        let ran = evenrun(&["check", &format!("fixtures/broken/{name}")]);
        let wanted = i32::from(name.starts_with('E'));
        assert_eq!(ran.code, Some(wanted), "{name}: {}", ran.err);
        assert!(ran.err.contains(&name[..4]), "{name}: {}", ran.err);
        assert_eq!(ran.out, "", "{name}");
    }
}

#[test]
fn plan_refuses_errors_before_it_makes_a_folder() {
    for name in fixtures().iter().filter(|n| n.starts_with('E')) {
        let folder = Folder::new();
        let (site, out) = (format!("fixtures/broken/{name}"), folder.arg("out"));
        let ran = evenrun(&["plan", &site, "--out", &out, "--iterations", "1", "--json"]);
        assert_eq!(ran.code, Some(2), "{name}: {}", ran.err);
        let first = &json(&ran.out)["problems"][0];
        assert_eq!(first["code"], name[..4], "{name}");
        assert!(first["file"].is_string() && first["message"].is_string());
        assert!(!folder.path("out").exists(), "{name}");
    }
}

#[test]
fn plan_goes_on_after_warnings() {
    for name in fixtures().iter().filter(|n| n.starts_with('W')) {
        let folder = Folder::new();
        let (site, out) = (format!("fixtures/broken/{name}"), folder.arg("out"));
        let ran = evenrun(&[
            "plan",
            &site,
            "--date",
            "2026-03-10",
            "--out",
            &out,
            "--iterations",
            "1",
        ]);
        assert_eq!(ran.code, Some(0), "{name}: {}", ran.err);
        assert!(ran.err.contains(&name[..4]), "{name}: {}", ran.err);
    }
}

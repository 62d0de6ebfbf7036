//! The two floors with one thing in `site.yaml` written otherwise: what each is refused with, beside the sites of `fixtures/broken`.

use super::{codes, fixtures, said_about};
use std::fs;

/// What is written, what is written in its place, and a code that is told then.
const ALTERED: [(&str, &str, &str); 11] = [
    (
        "site: Two floors",
        "site: Two\\tfloors\nsite: again",
        "E204",
    ),
    ("place: \"103\", m: 14", "place: \"103\", m: 99", "E403"),
    ("[[0, 0], [24, 0]]", "[[3, 3], [3, 3]]", "E207"),
    ("m2_per_h: 900", "m2_per_h: 900, sqft_per_h: 9000", "E205"),
    ("m2_per_h: 900", "m2_per_h: 900, per: m2", "E503"),
    ("m2_per_h: 900", "m2_per_h: 900, min: 3", "E503"),
    ("m2_per_h: 900", "min: 3, per: lamp", "E214"),
    (
        "  - kind: corridor",
        "  - kind: corridor\n    drop: [no such task]",
        "E312",
    ),
    ("\"07:00-23:00\"", "\"mon-fri 07:00-23:00\"", "E209"),
    ("rise_m: 0.175", "rise_m: 175", "E207"),
    ("Europe/London", "zzzzzzzz", "E215"),
];

#[test]
fn one_thing_written_otherwise_is_refused_with_its_code() {
    for (from, to, code) in ALTERED {
        let folder = tempfile::tempdir().unwrap();
        for entry in fs::read_dir(fixtures().join("two_floors")).unwrap() {
            let entry = entry.unwrap();
            fs::copy(entry.path(), folder.path().join(entry.file_name())).unwrap();
        }
        let file = folder.path().join("site.yaml");
        let sound = fs::read_to_string(&file).unwrap();
        assert!(sound.contains(from), "{from}");
        fs::write(&file, sound.replacen(from, to, 1)).unwrap();
        let said = said_about(&file);
        assert!(codes(&said).contains(code), "{to}: {:?}", codes(&said));
    }
}

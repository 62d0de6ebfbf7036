//! Components of a calendar: `BEGIN` to `END`, one in the other.

use super::lines::Line;
use crate::input::import::table::whole;
use crate::input::limits::{COMPONENT_DEPTH, COMPONENTS};
use crate::input::log::{Log, Pos};

/// A component with its own lines and what is in it.
#[derive(Clone, Debug, Default)]
pub(super) struct Component {
    /// In capitals, such as `VEVENT`.
    pub(super) name: String,
    pub(super) pos: Pos,
    pub(super) lines: Vec<Line>,
    pub(super) inner: Vec<Component>,
}

impl Component {
    /// Its first line of that name.
    pub(super) fn line(&self, name: &str) -> Option<&Line> {
        self.lines.iter().find(|l| l.name == name)
    }

    /// All its lines of that name.
    pub(super) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Line> {
        self.lines.iter().filter(move |l| l.name == name)
    }
}

/// The outermost components; `None` if the log says what is wrong.
pub(super) fn components(file: u32, lines: Vec<Line>, log: &Log) -> Option<Vec<Component>> {
    let mut open: Vec<Component> = Vec::new();
    let mut done: Vec<Component> = Vec::new();
    let mut count = 0;
    for line in lines {
        let wrong =
            |message: String| log.error("I403", line.pos, message, "is this all of the file?");
        match line.name.as_str() {
            "BEGIN" => {
                count += 1;
                if open.len() >= COMPONENT_DEPTH || count > COMPONENTS {
                    let message = format!(
                        "more than {COMPONENTS} components, or nested deeper than {COMPONENT_DEPTH}"
                    );
                    log.error("I407", line.pos, message, "export a shorter time");
                    return None;
                }
                let name = line.value.to_uppercase();
                open.push(Component {
                    name,
                    pos: line.pos,
                    ..Component::default()
                });
            }
            "END" => {
                let Some(component) = open.pop().filter(|c| c.name == line.value.to_uppercase())
                else {
                    wrong(format!(
                        "`END:{}` ends nothing that is open here",
                        line.value
                    ));
                    return None;
                };
                open.last_mut()
                    .map_or(&mut done, |outer| &mut outer.inner)
                    .push(component);
            }
            _ => {
                let Some(component) = open.last_mut() else {
                    wrong(format!("`{}` stands outside of any component", line.name));
                    return None;
                };
                component.lines.push(line);
            }
        }
    }
    if let Some(left) = open.last() {
        let message = format!("`BEGIN:{}` is never ended: the file is cut off", left.name);
        log.error("I403", left.pos, message, "export it again");
        return None;
    }
    if done.is_empty() {
        log.error(
            "I401",
            whole(file),
            "there is no calendar in this file".to_string(),
            "export one as .ics",
        );
        return None;
    }
    Some(done)
}

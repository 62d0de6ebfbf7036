//! New items put into a list of a site's own file as text, so that everything else in it stays as it was written, comments too.

use crate::input::log::Log;
use crate::input::tree::{Key, Node, Shape, read_yaml};
use std::rc::Rc;

/// The text with `items` added to the list under a top-level key. Items are whole lines that begin with `  - `. `None` if the list is
/// written in a form that lines cannot be added to; nothing is lost then.
pub(crate) fn insert_items(text: &str, key: &str, items: &[String]) -> Option<String> {
    if items.is_empty() {
        return Some(text.to_string());
    }
    let node = tree(text)?;
    let entries = map(&node)?;
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let at = entries.iter().position(|(k, _)| k.name == key);
    let changed = match at {
        None => {
            let block: String = items.iter().map(|i| line(i, "  ", end)).collect();
            let gap = if text.ends_with('\n') || text.is_empty() {
                ""
            } else {
                end
            };
            format!("{text}{gap}{end}{key}:{end}{block}")
        }
        Some(at) => {
            let lines: Vec<&str> = text.split_inclusive('\n').collect();
            let indent = indent(&lines, &entries[at].1)?;
            let block: String = items.iter().map(|i| line(i, &indent, end)).collect();
            let next = entries
                .get(at + 1)
                .map_or(lines.len(), |(k, _)| k.pos.line as usize - 1);
            let split = before_comments(&lines, entries[at].0.pos.line as usize, next);
            let gap = if split == lines.len() && !text.ends_with('\n') {
                end
            } else {
                ""
            };
            format!(
                "{}{gap}{block}{}",
                lines[..split].concat(),
                lines[split..].concat()
            )
        }
    };
    grown_as_meant(&node, &changed, key, items.len()).then_some(changed)
}

fn tree(text: &str) -> Option<Rc<Node>> {
    let log = Log::default();
    let node = read_yaml(0, text, &log);
    node.filter(|_| log.errors() == 0)
}

fn map(node: &Node) -> Option<&[(Key, Rc<Node>)]> {
    match &node.shape {
        Shape::Map(entries) => Some(entries),
        _ => None,
    }
}

fn line(item: &str, indent: &str, end: &str) -> String {
    let item = item.trim_end().trim_start();
    let lines: Vec<String> = item.lines().map(|l| format!("{indent}{l}{end}")).collect();
    lines.concat()
}

/// What stands before the dash of the list's items; `None` if it is no block list.
fn indent(lines: &[&str], list: &Node) -> Option<String> {
    match &list.shape {
        Shape::Null => Some("  ".to_string()),
        Shape::List(items) => {
            let first = lines.get(items.first()?.pos.line as usize - 1)?;
            let before = &first[..first.len() - first.trim_start().len()];
            first
                .trim_start()
                .starts_with("- ")
                .then(|| before.to_string())
        }
        _ => None,
    }
}

/// The last line of a list's own: comments and blank lines before the next key belong to that key.
fn before_comments(lines: &[&str], key_line: usize, next: usize) -> usize {
    let mut at = next;
    while at > key_line {
        let last = lines[at - 1].trim();
        if !(last.is_empty() || last.starts_with('#')) {
            break;
        }
        at -= 1;
    }
    at
}

/// Whether the text reads as before but for so many new items under the key.
fn grown_as_meant(before: &Node, changed: &str, key: &str, more: usize) -> bool {
    let Some(after) = tree(changed) else {
        return false;
    };
    let (Some(old), Some(new)) = (map(before), map(&after)) else {
        return false;
    };
    let count = |entries: &[(Key, Rc<Node>)], name: &str| {
        let node = entries
            .iter()
            .find(|(k, _)| k.name == name)
            .map(|(_, n)| Rc::clone(n));
        node.map(|n| match &n.shape {
            Shape::List(items) => items.len(),
            _ => 0,
        })
    };
    let others = old.iter().filter(|(k, _)| k.name != key);
    let kept = others
        .clone()
        .all(|(k, _)| count(old, &k.name) == count(new, &k.name));
    kept && count(new, key) == Some(count(old, key).unwrap_or(0) + more)
}

#[cfg(test)]
mod tests {
    use super::insert_items;

    const TEXT: &str = "site: x # mine\nhalls:\n  # the long one\n  - {id: A, floor: G}\n\n# What joins them.\nlinks:\n- {id: l}\ncrew: []\n";

    #[test]
    fn items_are_added_and_everything_else_stays() {
        let item = vec!["  - {id: B, floor: G} # guessed\n".to_string()];
        let text = insert_items(TEXT, "halls", &item).unwrap();
        assert_eq!(
            text,
            TEXT.replace(
                "floor: G}\n\n",
                "floor: G}\n  - {id: B, floor: G} # guessed\n\n"
            )
        );
        let text = insert_items(TEXT, "links", &item).unwrap();
        assert!(
            text.contains("- {id: l}\n- {id: B, floor: G} # guessed\ncrew"),
            "{text}"
        );
        let text = insert_items(TEXT, "stairs", &item).unwrap();
        assert!(
            text.ends_with("crew: []\n\nstairs:\n  - {id: B, floor: G} # guessed\n"),
            "{text}"
        );
        let crlf = insert_items(&TEXT.replace('\n', "\r\n"), "halls", &item).unwrap();
        assert!(
            crlf.contains("  - {id: B, floor: G} # guessed\r\n\r\n# What"),
            "{crlf}"
        );
    }

    #[test]
    fn a_list_in_brackets_is_left_alone() {
        let item = vec!["  - {id: B}\n".to_string()];
        assert_eq!(insert_items("halls: [{id: A}]\n", "halls", &item), None);
        assert_eq!(insert_items("halls: [\n", "halls", &item), None);
        assert_eq!(insert_items("halls: none\n", "halls", &item), None);
        assert_eq!(insert_items("- a\n", "halls", &item), None);
        assert!(insert_items("halls:\nsite: x\n", "halls", &item).is_some());
    }

    #[test]
    fn a_file_whose_last_line_is_not_ended_grows_by_whole_lines() {
        let item = vec!["  - {id: B}\n".to_string()];
        let added = |text, key| insert_items(text, key, &item).unwrap();
        assert_eq!(
            added("halls:\n  - {id: A}", "halls"),
            "halls:\n  - {id: A}\n  - {id: B}\n"
        );
        assert_eq!(
            added("site: x", "halls"),
            "site: x\n\nhalls:\n  - {id: B}\n"
        );
        assert_eq!(
            insert_items("site: [", "halls", &[]),
            Some("site: [".to_string())
        );
    }

    /// Behind `...`, which ends a YAML document (YAML 1.2, section 9.1.4), new keys would be a document of their own.
    #[test]
    fn nothing_is_added_behind_the_end_of_the_document() {
        let item = vec!["  - {id: B}\n".to_string()];
        assert_eq!(insert_items("site: x\n...\n", "halls", &item), None);
    }
}

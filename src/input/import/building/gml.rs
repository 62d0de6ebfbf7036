//! A building from OGC IndoorGML 1.0: states are spaces, transitions join them; cells give names and areas. Told apart by local names, so that
//! any prefix will do.

use super::plan::{Building, Riser, Space, Storey};
use crate::input::import::rooms::plain;
use crate::input::import::table::whole;
use crate::input::limits::{ELEMENT_DEPTH, ELEMENTS};
use crate::input::log::{Log, Pos};
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::BTreeMap;

/// Heights of storeys that are believed to be metres.
const STOREY: std::ops::RangeInclusive<f64> = 2.2..=8.0;
/// Lengths of joins in the middle that are believed to be metres, where there is one storey only.
const JOIN: std::ops::RangeInclusive<f64> = 0.5..=60.0;
/// A usual storey, to propose a scale, in metres.
const USUAL: f64 = 3.5;

/// The building of a file; `None` if the log says what is wrong. `scale` is metres in one unit, if the user says it.
pub(super) fn read(file: u32, text: &str, scale: Option<f64>, log: &Log) -> Option<Building> {
    if let Some(pos) = too_deep(file, text) {
        log.error(
            "I502",
            pos,
            format!("elements are nested deeper than {ELEMENT_DEPTH}"),
            "",
        );
        return None;
    }
    let options = ParsingOptions {
        allow_dtd: false,
        nodes_limit: ELEMENTS as u32,
        ..ParsingOptions::default()
    };
    let document = match Document::parse_with_options(text, options) {
        Ok(document) => document,
        Err(error) => {
            let at = error.pos();
            let pos = Pos {
                file,
                line: at.row,
                column: at.col,
            };
            let (code, message) = match error {
                roxmltree::Error::DtdDetected => (
                    "I502",
                    "a document type is declared; entities are not expanded here".to_string(),
                ),
                roxmltree::Error::NodesLimitReached => (
                    "I502",
                    format!("the file has more than {ELEMENTS} elements"),
                ),
                error => (
                    "I503",
                    format!("this is not XML, or not all of it: {error}"),
                ),
            };
            log.error(code, pos, message, "export it again");
            return None;
        }
    };
    let reader = Reader {
        document: &document,
        file,
        log,
    };
    reader.building(scale)
}

/// Where elements are nested too deeply, told before the reader would go down as deep itself.
fn too_deep(file: u32, text: &str) -> Option<Pos> {
    let mut depth = 0usize;
    let mut rest = text;
    let mut at = 0;
    while let Some(open) = rest.find('<') {
        at += open;
        rest = &rest[open..];
        let end = rest.find('>').map_or(rest.len(), |e| e + 1);
        let tag = &rest[..end];
        if tag.starts_with("</") {
            depth = depth.saturating_sub(1);
        } else if !tag.ends_with("/>") && !tag.starts_with("<?") && !tag.starts_with("<!") {
            depth += 1;
        }
        if depth > ELEMENT_DEPTH {
            let line = text[..at].matches('\n').count() as u32 + 1;
            return Some(Pos {
                file,
                line,
                column: 1,
            });
        }
        at += end;
        rest = &rest[end..];
    }
    None
}

/// What cells are called, by what they are for.
const CELLS: [&str; 5] = [
    "CellSpace",
    "GeneralSpace",
    "TransitionSpace",
    "ConnectionSpace",
    "AnchorSpace",
];

struct Reader<'a, 'd> {
    document: &'a Document<'d>,
    file: u32,
    log: &'a Log,
}

/// A state before its storey is known.
struct State {
    id: String,
    name: String,
    usage: String,
    at: (f64, f64, f64),
    area: Option<f64>,
    pos: Pos,
}

impl Reader<'_, '_> {
    fn pos(&self, node: Node) -> Pos {
        let at = self.document.text_pos_at(node.range().start);
        Pos {
            file: self.file,
            line: at.row,
            column: at.col,
        }
    }

    fn all<'n>(&'n self, name: &'n str) -> impl Iterator<Item = Node<'n, 'n>> {
        self.document
            .root()
            .descendants()
            .filter(move |n| n.tag_name().name() == name)
    }

    fn building(&self, scale: Option<f64>) -> Option<Building> {
        let (states, index) = self.states()?;
        if states.is_empty() {
            let hint =
                "export the building with its network: states and transitions (IndoorGML 1.0)";
            let message = "the file has no states with positions".to_string();
            self.log.error("I504", whole(self.file), message, hint);
            return None;
        }
        let (joins, zero) = self.transitions(&index);
        if zero > 0 {
            let all = joins.len();
            let message = format!(
                "{zero} of {all} transitions have the weight zero: lengths are taken from positions"
            );
            self.log.warning("I914", whole(self.file), message, "");
        }
        let scale = scale.or_else(|| self.scale(&states, &joins))?;
        Some(assembled(states, &joins, scale))
    }

    /// States with a position, and where each is among them; `None` if one is there twice.
    fn states(&self) -> Option<(Vec<State>, BTreeMap<String, usize>)> {
        let cells = CELLS
            .iter()
            .flat_map(|name| self.all(name))
            .filter_map(|c| Some((id_of(c)?, c)));
        let cells: BTreeMap<String, Node> = cells.collect();
        let mut states: Vec<State> = Vec::new();
        let mut index = BTreeMap::new();
        for node in self.all("State") {
            let Some(id) = id_of(node) else { continue };
            let pos = self.pos(node);
            let Some(at) = point(node) else {
                let message = format!("state `{id}` has no position: left out");
                self.log.warning("I911", pos, message, "give its geometry");
                continue;
            };
            if index.insert(id.clone(), states.len()).is_some() {
                self.log.error(
                    "I503",
                    pos,
                    format!("state `{id}` is there twice"),
                    "export it again",
                );
                return None;
            }
            let cell = href(node, "duality").and_then(|id| cells.get(&id).copied());
            let name =
                child_text(node, "name").or_else(|| cell.and_then(|c| child_text(c, "name")));
            states.push(State {
                id,
                name: name.unwrap_or_default(),
                usage: cell.map(usage).unwrap_or_default(),
                at,
                area: cell.and_then(area),
                pos,
            });
        }
        Some((states, index))
    }

    /// Pairs of states, and how many have no weight; what leads nowhere is told and left out.
    fn transitions(&self, index: &BTreeMap<String, usize>) -> (Vec<(usize, usize)>, usize) {
        let mut joins = Vec::new();
        let mut zero = 0;
        for node in self.all("Transition") {
            let ends: Vec<String> = node
                .children()
                .filter(|c| c.tag_name().name() == "connects")
                .filter_map(link)
                .collect();
            let known: Vec<usize> = ends
                .iter()
                .filter_map(|id| index.get(id).copied())
                .collect();
            if let [a, b] = known[..] {
                joins.push((a, b));
                let weight = child_text(node, "weight").and_then(|w| w.parse::<f64>().ok());
                zero += usize::from(weight == Some(0.0));
            } else {
                let message = format!(
                    "a transition joins {}, of which {} are known states",
                    ends.join(" and "),
                    known.len()
                );
                self.log
                    .warning("I915", self.pos(node), message, "it is left out");
            }
        }
        (joins, zero)
    }

    /// Metres in one unit: one, if storeys are as high as storeys are; else the log asks.
    fn scale(&self, states: &[State], joins: &[(usize, usize)]) -> Option<f64> {
        let levels = levels(states);
        let gaps: Vec<f64> = levels.windows(2).map(|w| w[1] - w[0]).collect();
        let middle = |mut values: Vec<f64>| {
            values.sort_by(f64::total_cmp);
            values.get(values.len() / 2).copied()
        };
        let storeys = middle(gaps).map(|gap| (gap, STOREY.contains(&gap), "storeys are"));
        let (typical, believed, what) = storeys.unwrap_or_else(|| {
            let length = |(a, b): &(usize, usize)| {
                let (a, b) = (states[*a].at, states[*b].at);
                (a.0 - b.0).hypot(a.1 - b.1)
            };
            let typical = middle(joins.iter().map(length).collect()).unwrap_or(1.0);
            (typical, JOIN.contains(&typical), "neighbouring spaces are")
        });
        if believed {
            return Some(1.0);
        }
        let message = format!("the unit of lengths is not known: {what} {typical:.1} apart");
        let hint = format!(
            "say how many metres a unit is; if a storey is {USUAL} m high, that is `--scale {:.3}`",
            USUAL / typical.max(1e-9)
        );
        self.log.error("I505", whole(self.file), message, hint);
        None
    }
}

/// Heights on which states lie, lowest first; those nearer than a tenth of the whole height are one.
fn levels(states: &[State]) -> Vec<f64> {
    let mut heights: Vec<f64> = states.iter().map(|s| s.at.2).collect();
    heights.sort_by(f64::total_cmp);
    let range = heights.last().unwrap_or(&0.0) - heights.first().unwrap_or(&0.0);
    // A floor is not quite level in every file; a storey is higher than a hundredth of the plan is wide.
    let wide = |of: fn(&State) -> f64| {
        let values = || states.iter().map(of);
        values().fold(f64::MIN, f64::max) - values().fold(f64::MAX, f64::min)
    };
    let across = wide(|s| s.at.0).hypot(wide(|s| s.at.1));
    let apart = (range / 50.0).max(across / 100.0).max(1e-6);
    let mut levels: Vec<f64> = Vec::new();
    for height in heights {
        if levels.last().is_none_or(|last| height - last > apart) {
            levels.push(height);
        }
    }
    levels
}

fn assembled(states: Vec<State>, joins: &[(usize, usize)], scale: f64) -> Building {
    let levels = levels(&states);
    let storey = |z: f64| {
        let nearest = levels
            .iter()
            .enumerate()
            .min_by(|a, b| (a.1 - z).abs().total_cmp(&(b.1 - z).abs()));
        nearest.map_or(0, |(index, _)| index)
    };
    let storeys: Vec<Storey> = levels
        .iter()
        .enumerate()
        .map(|(i, z)| Storey {
            name: i.to_string(),
            elevation: z * scale,
        })
        .collect();
    let spaces: Vec<Space> = states
        .into_iter()
        .map(|s| Space {
            storey: storey(s.at.2),
            at: Some((s.at.0 * scale, s.at.1 * scale)),
            area: s.area.map(|a| a * scale * scale),
            leads_out: s.usage.contains("anchor"),
            id: s.id,
            name: s.name,
            usage: s.usage,
            pos: s.pos,
        })
        .collect();
    let (level, up): (Vec<_>, Vec<_>) = joins
        .iter()
        .copied()
        .partition(|(a, b)| spaces[*a].storey == spaces[*b].storey);
    Building {
        name: None,
        storeys,
        joins: level.into_iter().map(|(a, b)| (a, b, None)).collect(),
        risers: risers(&spaces, &up),
        spaces,
    }
}

/// Spaces joined from storey to storey, one way up for each chain.
fn risers(spaces: &[Space], up: &[(usize, usize)]) -> Vec<Riser> {
    let mut chains: Vec<Vec<usize>> = Vec::new();
    for (a, b) in up {
        let (mut own, rest): (Vec<_>, Vec<_>) = chains
            .into_iter()
            .partition(|c| c.contains(a) || c.contains(b));
        let mut chain: Vec<usize> = own.drain(..).flatten().chain([*a, *b]).collect();
        chain.sort_unstable();
        chain.dedup();
        chains = rest;
        chains.push(chain);
    }
    chains.sort();
    let riser = |(number, mut chain): (usize, Vec<usize>)| {
        chain.sort_by_key(|s| spaces[*s].storey);
        // One landing on each storey.
        chain.dedup_by_key(|s| spaces[*s].storey);
        let words = chain
            .iter()
            .map(|s| plain(&format!("{} {}", spaces[*s].name, spaces[*s].usage)))
            .collect::<Vec<_>>()
            .join(" ");
        let is_lift = ["lift", "elevator", "aufzug", "ascensor"]
            .iter()
            .any(|w| words.contains(w));
        let what = if is_lift { "Lift" } else { "Stairs" };
        Riser {
            name: format!("{what} {}", number + 1),
            is_lift,
            storeys: chain.iter().map(|s| spaces[*s].storey).collect(),
            spaces: chain,
        }
    };
    chains
        .into_iter()
        .enumerate()
        .map(riser)
        .filter(|r| r.storeys.len() > 1)
        .collect()
}

fn id_of(node: Node) -> Option<String> {
    let id = node.attributes().find(|a| a.name() == "id");
    id.map(|a| a.value().to_string())
}

fn link(node: Node) -> Option<String> {
    let href = node.attributes().find(|a| a.name() == "href");
    href.map(|a| a.value().trim_start_matches('#').to_string())
}

fn href(node: Node, name: &str) -> Option<String> {
    node.children()
        .find(|c| c.tag_name().name() == name)
        .and_then(link)
}

fn child_text(node: Node, name: &str) -> Option<String> {
    let child = node.children().find(|c| c.tag_name().name() == name)?;
    let text = child
        .text()
        .unwrap_or_default()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    (!text.is_empty()).then_some(text)
}

/// What a cell is said to be for: its element, class, function and use.
fn usage(cell: Node) -> String {
    let words = ["class", "function", "usage"]
        .into_iter()
        .filter_map(|name| child_text(cell, name));
    let element = cell.tag_name().name().to_lowercase().replace("space", "");
    std::iter::once(element)
        .chain(words)
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// The position of a state.
fn point(state: Node) -> Option<(f64, f64, f64)> {
    let geometry = state
        .children()
        .find(|c| c.tag_name().name() == "geometry")?;
    let pos = geometry
        .descendants()
        .find(|n| matches!(n.tag_name().name(), "pos" | "coordinates"))?;
    let numbers = numbers(pos.text().unwrap_or_default());
    match numbers[..] {
        [x, y, z, ..] => Some((x, y, z)),
        [x, y] => Some((x, y, 0.0)),
        _ => None,
    }
}

fn numbers(text: &str) -> Vec<f64> {
    let parts = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|p| !p.is_empty());
    parts
        .filter_map(|p| p.parse().ok())
        .filter(|n: &f64| n.is_finite() && n.abs() < 1e9)
        .collect()
}

/// The area of a cell's floor: its lowest level face, or its outline if it is drawn flat.
fn area(cell: Node) -> Option<f64> {
    let mut lowest: Option<(f64, f64)> = None;
    for ring in cell.descendants().filter(|n| {
        n.tag_name().name() == "exterior"
            && n.descendants().any(|d| d.tag_name().name() == "LinearRing")
    }) {
        if ring.descendants().any(|d| d.tag_name().name() == "Shell") {
            continue;
        }
        let positions = ring
            .descendants()
            .filter(|n| matches!(n.tag_name().name(), "pos" | "posList"));
        let flat: Vec<f64> = positions
            .flat_map(|p| numbers(p.text().unwrap_or_default()))
            .collect();
        let points: Vec<&[f64]> = flat.chunks_exact(3).collect();
        let Some(z) = points.first().map(|p| p[2]) else {
            continue;
        };
        let level = points.iter().all(|p| (p[2] - z).abs() < 1e-6);
        let twice: f64 = points
            .iter()
            .zip(points.iter().cycle().skip(1))
            .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
            .sum();
        let area = (twice / 2.0).abs();
        if level && area > 0.0 && lowest.is_none_or(|(height, _)| z < height) {
            lowest = Some((z, area));
        }
    }
    lowest.map(|(_, area)| area)
}

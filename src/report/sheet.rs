//! A sheet of figures: a heading, sentences, tables and notes, laid out once and shown on the terminal and on a page alike.

use super::cut::cut;
use super::html::page;
use super::table::{Cell, aligned, left, plain, right};
use super::words::Words;
use maud::{Markup, html};

/// Widest a row's own heading may be on the terminal.
const WIDEST: usize = 48;

/// A sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Sheet {
    /// Its name in links.
    pub(super) id: &'static str,
    /// Its heading.
    pub(super) head: String,
    /// What it comes to, in sentences.
    pub(super) lead: Vec<String>,
    /// Its tables.
    pub(super) grids: Vec<Grid>,
    /// What the figures rest on.
    pub(super) notes: Vec<String>,
}

/// A table.
#[derive(Clone, Debug, Default)]
pub(super) struct Grid {
    /// What it shows.
    pub(super) caption: String,
    /// Headings, each with whether its column holds numbers.
    pub(super) columns: Vec<(String, bool)>,
    /// Rows of cells; the first is the row's own heading.
    pub(super) rows: Vec<Vec<String>>,
}

impl Sheet {
    /// As lines for the terminal.
    pub(super) fn text(&self) -> String {
        let mut lines = vec![plain(&self.head), String::new()];
        lines.extend(self.lead.iter().map(|l| plain(l)));
        if !self.lead.is_empty() {
            lines.push(String::new());
        }
        for grid in self.grids.iter().filter(|g| !g.rows.is_empty()) {
            if !grid.caption.is_empty() {
                lines.push(plain(&grid.caption));
            }
            lines.extend(grid.lines());
            lines.push(String::new());
        }
        lines.extend(self.notes.iter().map(|n| plain(n)));
        while lines.last().is_some_and(String::is_empty) {
            lines.pop();
        }
        let trimmed: Vec<_> = lines.iter().map(|line| line.trim_end()).collect();
        trimmed.join("\n") + "\n"
    }

    /// As a section of a page.
    pub(super) fn section(&self) -> Markup {
        html! {
            section id=(self.id) aria-labelledby={ (self.id) "-head" } {
                h2 id={ (self.id) "-head" } { bdi { (self.head) } }
                @for sentence in &self.lead { p.lead { bdi { (sentence) } } }
                @for grid in self.grids.iter().filter(|g| !g.rows.is_empty()) { (grid.table()) }
                @for note in &self.notes { p.small { bdi { (note) } } }
            }
        }
    }
}

impl Grid {
    fn lines(&self) -> Vec<String> {
        let cell = |(index, text): (usize, &String)| -> Cell {
            match self.columns.get(index) {
                Some((_, true)) => right(plain(text)),
                _ if index == 0 => left(cut(&plain(text), WIDEST)),
                _ => left(plain(text)),
            }
        };
        let line = |row: &mut dyn Iterator<Item = &String>| row.enumerate().map(cell).collect();
        let heads = line(&mut self.columns.iter().map(|(head, _)| head));
        let body = self.rows.iter().map(|row| line(&mut row.iter()));
        let rows: Vec<Vec<Cell>> = std::iter::once(heads).chain(body).collect();
        aligned(&rows)
    }

    fn table(&self) -> Markup {
        html! {
            div.scroll { table {
                @if !self.caption.is_empty() { caption { bdi { (self.caption) } } }
                thead { tr {
                    @for (head, number) in &self.columns {
                        th.number[*number] scope="col" { (head) }
                    }
                } }
                tbody {
                    @for row in &self.rows { tr {
                        @for (index, (cell, (_, number))) in row.iter().zip(&self.columns).enumerate() {
                            @if index == 0 { th scope="row" { bdi { (cell) } } }
                            @else { td.number[*number] { bdi { (cell) } } }
                        }
                    } }
                }
            } }
        }
    }
}

/// Sheets for the terminal.
pub(super) fn texts(sheets: &[Sheet]) -> String {
    let texts: Vec<_> = sheets.iter().map(Sheet::text).collect();
    texts.join("\n")
}

/// Sheets as a page of their own.
pub(super) fn page_of(words: &Words, title: &str, sheets: &[Sheet]) -> String {
    let body = html! {
        header.top { h1 { bdi { (title) } } }
        main { @for sheet in sheets { (sheet.section()) } }
    };
    page::page(words, title, "report", "", &html! {}, &body)
}

//! Spreadsheets: odd archives, and odd parts in sound archives.

use super::mutate::Stock;
use rand::{Rng, RngExt};
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, XlsxError};
use std::io::{Cursor, Read, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

/// Words of spreadsheets' parts.
pub(super) const WORDS: &[&str] = &[
    "<c r=\"A1\" t=\"s\"><v>0</v></c>",
    "t=\"s\"",
    "t=\"inlineStr\"",
    "t=\"e\"",
    "t=\"b\"",
    "t=\"d\"",
    "t=\"str\"",
    "<v>",
    "</v>",
    "<is><t>x</t></is>",
    "<f>",
    "<row r=\"1048576\">",
    "r=\"XFD1048576\"",
    "r=\"A0\"",
    "r=\"AAAAAAAAA1\"",
    "r=\"1A\"",
    "<dimension ref=\"A1:XFD1048576\"/>",
    "<mergeCell ref=\"A1:B2\"/>",
    "<si><t>",
    "</t></si>",
    "numFmtId=\"14\"",
    "date1904=\"1\"",
    "rId99",
    "xl/worksheets/sheet9.xml",
    "Target=\"../../x\"",
    "count=\"4294967295\"",
    "uniqueCount=\"18446744073709551615\"",
    "xml:space=\"preserve\"",
    "s=\"99\"",
    "<sheet name=\"\" sheetId=\"0\" r:id=\"rId1\"/>",
];

/// An archive taken apart.
#[derive(Debug)]
pub(super) struct Parts(Vec<(String, Vec<u8>)>);

impl Parts {
    /// Of an archive; none of one that is none.
    pub(super) fn of(bytes: &[u8]) -> Parts {
        let mut parts = Vec::new();
        if let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) {
            for index in 0..archive.len() {
                let Ok(mut entry) = archive.by_index(index) else {
                    continue;
                };
                let name = entry.name().map(|name| name.to_string());
                let mut text = Vec::new();
                if let (Ok(name), Ok(_)) = (name, entry.read_to_end(&mut text)) {
                    parts.push((name, text));
                }
            }
        }
        Parts(parts)
    }

    /// What is in the parts.
    pub(super) fn texts(&self) -> Vec<Vec<u8>> {
        self.0.iter().map(|(_, text)| text.clone()).collect()
    }

    /// The archive with a part changed, left out or called otherwise. A sheet is changed most of the time.
    pub(super) fn odd(&self, stock: &Stock, chance: &mut impl Rng) -> Vec<u8> {
        let wanted = |name: &str| name.contains("sheet") || name.contains("sharedStrings");
        let rows: Vec<usize> = (0..self.0.len())
            .filter(|i| wanted(&self.0[*i].0))
            .collect();
        let chosen = if chance.random_range(0..4) > 0 && !rows.is_empty() {
            rows[chance.random_range(0..rows.len())]
        } else {
            chance.random_range(0..self.0.len().max(1))
        };
        let what = chance.random_range(0..20);
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
        for (index, (name, text)) in self.0.iter().enumerate() {
            let (mut name, mut text) = (name.clone(), text.clone());
            match (index == chosen, what) {
                (true, 0) => continue,
                (true, 1) => name = format!("{name}x"),
                (true, _) => stock.change(&mut text, chance),
                _ => {}
            }
            let written =
                writer.start_file(name, options).is_ok() && writer.write_all(&text).is_ok();
            debug_assert!(written, "a part cannot be written to memory");
        }
        writer.finish().map(Cursor::into_inner).unwrap_or_default()
    }
}

/// Books to begin with: a plain list; one with a title, a second sheet, numbers, dates, formulas and booleans.
pub(super) fn books() -> Vec<Vec<u8>> {
    [plain(), mixed()]
        .into_iter()
        .filter_map(Result::ok)
        .collect()
}

fn plain() -> Result<Vec<u8>, XlsxError> {
    let rows = [
        ["Room", "Type", "Floor", "Area (m2)", "Toilets"],
        ["101", "Office", "1", "18", ""],
        ["102", "Restroom", "1", "12.5", "3"],
        ["201", "Classroom", "2", "54", ""],
    ];
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (r, row) in rows.iter().enumerate() {
        for (c, text) in row.iter().enumerate() {
            sheet.write(r as u32, c as u16, *text)?;
        }
    }
    book.save_to_buffer()
}

fn mixed() -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let notes = book.add_worksheet();
    notes
        .set_name("Notes")?
        .write(0, 0, "See the other sheet")?;
    let sheet = book.add_worksheet();
    sheet
        .set_name("Rooms")?
        .write(0, 0, "Building 4: room list")?;
    let headers = [
        "Room No.",
        "Description",
        "Room type",
        "Floor",
        "Area (sq ft)",
        "Finish",
        "Cleaned",
        "Surveyed",
    ];
    for (c, header) in headers.into_iter().enumerate() {
        sheet.write(2, c as u16, header)?;
    }
    let date = Format::new().set_num_format("yyyy-mm-dd");
    for (r, (id, kind)) in [
        (101, "Office"),
        (102, "Lab"),
        (103, "Men's restroom"),
        (104, "Closet"),
    ]
    .into_iter()
    .enumerate()
    {
        let row = r as u32 + 3;
        sheet
            .write(row, 0, id)?
            .write(row, 1, format!(" Room  {id} "))?
            .write(row, 2, kind)?;
        sheet
            .write(row, 3, "1st floor")?
            .write(row, 4, 160.5)?
            .write(row, 5, "Vinyl")?
            .write(row, 6, true)?;
        sheet.write_with_format(row, 7, &ExcelDateTime::from_ymd(2026, 1, 2)?, &date)?;
    }
    sheet
        .write(7, 2, "Total")?
        .write(7, 4, Formula::new("=SUM(E4:E7)").set_result("642"))?;
    book.save_to_buffer()
}

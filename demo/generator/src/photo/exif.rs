//! The EXIF part of a JPEG: time taken and, where the camera knew it, the place.
//!
//! A TIFF structure in big-endian order in an APP1 segment (CIPA DC-008, JEITA CP-3451), from memory; the
//! tests of the reading side use a general EXIF library.

const ASCII: u16 = 2;
const LONG: u16 = 4;
const RATIONAL: u16 = 5;

struct Entry {
    tag: u16,
    kind: u16,
    count: u32,
    data: Vec<u8>,
}

/// The picture with an EXIF segment put in after its first marker. `time` is `YYYY:MM:DD HH:MM:SS`.
pub(crate) fn with(jpeg: &[u8], time: &str, place: Option<(f64, f64)>) -> Vec<u8> {
    let tiff = tiff(time, place);
    let mut out = jpeg[..2].to_vec();
    out.extend([0xFF, 0xE1]);
    out.extend((tiff.len() as u16 + 8).to_be_bytes());
    out.extend(b"Exif\0\0");
    out.extend(tiff);
    out.extend(&jpeg[2..]);
    out
}

fn tiff(time: &str, place: Option<(f64, f64)>) -> Vec<u8> {
    let mut out = b"MM\0\x2A\0\0\0\x08".to_vec();
    let mut main = vec![text(0x0132, time), pointer(0x8769, 0)];
    if place.is_some() {
        main.push(pointer(0x8825, 0));
    }
    let taken = [text(0x9003, time)];
    let taken_at = 8 + size(&main);
    main[1] = pointer(0x8769, taken_at);
    if place.is_some() {
        main[2] = pointer(0x8825, taken_at + size(&taken));
    }
    directory(&mut out, &main);
    directory(&mut out, &taken);
    if let Some((latitude, longitude)) = place {
        let gps = [
            text(0x0001, if latitude < 0.0 { "S" } else { "N" }),
            degrees(0x0002, latitude),
            text(0x0003, if longitude < 0.0 { "W" } else { "E" }),
            degrees(0x0004, longitude),
        ];
        directory(&mut out, &gps);
    }
    out
}

fn text(tag: u16, text: &str) -> Entry {
    let mut data = text.as_bytes().to_vec();
    data.push(0);
    Entry { tag, kind: ASCII, count: data.len() as u32, data }
}

fn pointer(tag: u16, to: u32) -> Entry {
    Entry { tag, kind: LONG, count: 1, data: to.to_be_bytes().to_vec() }
}

fn degrees(tag: u16, value: f64) -> Entry {
    let hundredths = (value.abs() * 360_000.0).round() as u32;
    let parts = [(hundredths / 360_000, 1), (hundredths / 6_000 % 60, 1), (hundredths % 6_000, 100)];
    let data = parts
        .iter()
        .flat_map(|(over, under): &(u32, u32)| [over.to_be_bytes(), under.to_be_bytes()])
        .flatten();
    Entry { tag, kind: RATIONAL, count: 3, data: data.collect() }
}

/// Bytes of a directory with the data that does not fit into its entries.
fn size(entries: &[Entry]) -> u32 {
    let outside: usize = entries
        .iter()
        .filter(|entry| entry.data.len() > 4)
        .map(|entry| entry.data.len().next_multiple_of(2))
        .sum();
    (2 + entries.len() * 12 + 4 + outside) as u32
}

fn directory(out: &mut Vec<u8>, entries: &[Entry]) {
    let mut outside_at = out.len() + 2 + entries.len() * 12 + 4;
    let mut outside = Vec::new();
    out.extend((entries.len() as u16).to_be_bytes());
    for entry in entries {
        out.extend(entry.tag.to_be_bytes());
        out.extend(entry.kind.to_be_bytes());
        out.extend(entry.count.to_be_bytes());
        let mut data = entry.data.clone();
        if data.len() > 4 {
            out.extend((outside_at as u32).to_be_bytes());
            data.resize(data.len().next_multiple_of(2), 0);
            outside_at += data.len();
            outside.extend(data);
        } else {
            data.resize(4, 0);
            out.extend(data);
        }
    }
    out.extend([0; 4]);
    out.extend(outside);
}

//! Pixels read back by the library that reads PNG files, and held against the drawing.

use super::*;
use crate::drawing::{Face, Item, Modules, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::typesetting::code::{Code, Level};
use crate::typesetting::{Typesetter, sign};

const MOST: usize = 80_000_000;

/// What a PNG file says of itself, and its bytes row by row.
struct Read {
    size: (u32, u32),
    colour: (png::ColorType, png::BitDepth),
    a_metre: (u32, u32),
    table: Option<Vec<u8>>,
    rows: Vec<u8>,
    line: usize,
}

fn read(bytes: &[u8]) -> Read {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::IDENTITY);
    let mut reader = decoder.read_info().unwrap();
    let mut rows = vec![0; reader.output_buffer_size().unwrap()];
    let line = reader.next_frame(&mut rows).unwrap().line_size;
    let info = reader.info();
    let dims = info.pixel_dims.unwrap();
    assert_eq!(dims.unit, png::Unit::Meter);
    Read {
        size: (info.width, info.height),
        colour: (info.color_type, info.bit_depth),
        a_metre: (dims.xppu, dims.yppu),
        table: info.palette.as_ref().map(|table| table.to_vec()),
        rows,
        line,
    }
}

impl Read {
    /// The number of a pixel in a picture of few bits.
    fn at(&self, x: u32, y: u32) -> u8 {
        let bits = match self.colour.1 {
            png::BitDepth::One => 1,
            png::BitDepth::Two => 2,
            other @ (png::BitDepth::Four | png::BitDepth::Eight | png::BitDepth::Sixteen) => panic!("{other:?}"),
        };
        let (bit, row) = (x as usize * bits, y as usize * self.line);
        self.rows[row + bit / 8] >> (8 - bits - bit % 8) & ((1 << bits) - 1)
    }
}

fn square(dots: Dots) -> Drawing {
    Drawing { dots: Some(dots), ..Drawing::new(Size::whole_mm(60, 20)) }
}

fn drawn(drawing: &Drawing, palette: &Palette) -> Read {
    read(&png(drawing, palette, Stock::White, MOST).unwrap())
}

/// A code whose module is so many dots, beginning at a dot.
fn code(dots: Dots, (x, y): (u32, u32), module: u32) -> (Code, Item) {
    let code = Code::of("HTTPS://SALTMERE.EXAMPLE/CH3-JB1/1", Level::Medium).unwrap();
    let modules = Modules {
        origin: Point::new(dots.length(x), dots.length(y)),
        module: dots.length(module),
        side: code.side,
        rows: code.rows.clone(),
        payload: String::new(),
    };
    (code, Item::Modules(modules))
}

#[test]
fn a_picture_is_as_large_as_its_label_and_says_how_fine_it_is() {
    // 8 dots a millimetre at 203 dpi (common practice), 25.4 mm to the inch; ISO/IEC 15948, 11.3.5.3: pixels a metre.
    for (dots, size, a_metre) in
        [(Dots::Dpi203, (480, 160), 8_000), (Dots::Dpi300, (709, 236), 11_811), (Dots::Dpi600, (1_417, 472), 23_622)]
    {
        let read = drawn(&square(dots), &Palette::BlackOnly);
        assert_eq!((read.size, read.a_metre), (size, (a_metre, a_metre)), "{dots:?}");
        assert_eq!(read.colour, (png::ColorType::Grayscale, png::BitDepth::One));
        assert!(read.at(0, 0) == 1 && read.at(size.0 - 1, size.1 - 1) == 1, "nothing is printed");
    }
}

#[test]
fn every_module_is_whole_dots_however_large_the_code() {
    for dots in Dots::ALL {
        for module in [3, 4, 5, 6, 7] {
            let mut drawing = Drawing { size: Size::whole_mm(40, 40), ..square(dots) };
            let (code, item) = code(dots, (11, 7), module);
            drawing.items.push(item);
            let read = drawn(&drawing, &Palette::BlackOnly);
            for y in 0..u32::from(code.side) * module {
                for x in 0..u32::from(code.side) * module {
                    let dark = code.rows[(y / module) as usize] >> (x / module) & 1 == 1;
                    assert_eq!(read.at(x + 11, y + 7) == 0, dark, "{dots:?} {module} at {x} {y}");
                }
            }
        }
    }
}

#[test]
fn a_rule_on_dots_is_as_thick_wherever_it_lies() {
    for dots in Dots::ALL {
        for start in 0..40 {
            let mut drawing = square(dots);
            let wanted = Rect::new(
                Point::new(Length::mm(2.0), Length::um(1_000 + start * 31)),
                Size::new(Length::mm(40.0), dots.length(3)),
            );
            drawing.fill(Path::rectangle(dots.area(wanted)), Ink::Black);
            let read = drawn(&drawing, &Palette::BlackOnly);
            let middle = dots.nearest(Length::mm(20.0));
            let black = (0..read.size.1).filter(|y| read.at(middle, *y) == 0);
            let first = dots.nearest(wanted.origin.y);
            assert_eq!(black.collect::<Vec<_>>(), [first, first + 1, first + 2], "{dots:?} {start}");
        }
    }
}

/// A sign, a number in white on black, and letters.
fn plate(dots: Dots) -> Drawing {
    let mut drawing = square(dots);
    let height = Length::mm(15.0);
    let at = Rect::new(Point::new(Length::mm(2.0), Length::mm(2.0)), Size::new(sign::width(height), height));
    drawing.items.push(Item::Group { group: sign::group(), at });
    drawing.fill(Path::circle(Point::new(Length::mm(30.0), Length::mm(10.0)), Length::mm(4.0)), Ink::Black);
    let line = Typesetter::new().line(Face::Bold, "1").unwrap();
    drawing.text(line, Point::new(Length::mm(29.0), Length::mm(12.0)), Length::mm(6.0), Ink::White);
    let line = Typesetter::new().line(Face::Regular, "CH3").unwrap();
    drawing.text(line, Point::new(Length::mm(40.0), Length::mm(12.0)), Length::mm(2.9), Ink::Grey);
    drawing
}

#[test]
fn two_colours_come_as_a_table_of_three() {
    let read = drawn(&plate(Dots::Dpi203), &Palette::BlackAndYellow);
    assert_eq!(read.colour, (png::ColorType::Indexed, png::BitDepth::Two));
    // RAL 1003 as F9A800 by the table of ISO 3864-4 (from a secondary source).
    assert_eq!(read.table.as_deref(), Some(&[255, 255, 255, 0, 0, 0, 0xF9, 0xA8, 0][..]));
    let count = |wanted| (0..480 * 160).filter(|i| read.at(i % 480, i / 480) == wanted).count();
    let (black, yellow) = (count(1), count(2));
    assert_eq!(count(0) + black + yellow, 480 * 160, "no fourth number");
    // Yellow is about 60 % of the sign, as in the registered one. Its outer triangle with round corners takes 0.534 of the
    // box: side 568 with 16 around it, less what the round corners lack, of 600 x 524.
    let outer = (f64::sqrt(0.1875) * 623.4_f64.powi(2) - 3.0 * 256.0 * 0.685) / (600.0 * 524.0);
    let sign = 15.0 * sign::width(Length::mm(15.0)).to_mm() * 64.0 * outer;
    assert!((f64::from(u32::try_from(yellow).unwrap()) / sign - 0.605).abs() < 0.03, "{yellow} of {sign}");
    assert!(black > 1_000);
}

#[test]
fn black_alone_leaves_the_material_free_where_yellow_would_be() {
    let (one, two) =
        (drawn(&plate(Dots::Dpi203), &Palette::BlackOnly), drawn(&plate(Dots::Dpi203), &Palette::BlackAndYellow));
    for (x, y) in (0..480).flat_map(|x| (0..160).map(move |y| (x, y))) {
        assert_eq!(one.at(x, y) == 0, two.at(x, y) == 1, "at {x} {y}");
    }
    // Grey letters are black, every dot of them, and a white number stays open.
    let black = |left: u32, right: u32| {
        (left * 8..right * 8).flat_map(|x| (0..160).map(move |y| (x, y))).filter(|(x, y)| one.at(*x, *y) == 0).count()
    };
    assert!(black(40, 48) > 100, "{}", black(40, 48));
    let disc = (8.0_f64 * 4.0).powi(2) * std::f64::consts::PI;
    assert!(f64::from(u32::try_from(black(26, 34)).unwrap()) < disc - 150.0, "the number is not open");
}

#[test]
fn without_a_printing_head_a_picture_has_shades() {
    let drawing = Drawing { dots: None, ..plate(Dots::Dpi300) };
    let on = |stock| read(&png(&drawing, &Palette::Office, stock, MOST).unwrap());
    let read = on(Stock::White);
    assert_eq!((read.size, read.a_metre), ((709, 236), (11_811, 11_811)));
    assert_eq!(read.colour, (png::ColorType::Rgb, png::BitDepth::Eight));
    let pixels: std::collections::BTreeSet<&[u8]> = read.rows.chunks(3).collect();
    assert!(pixels.len() > 20 && pixels.contains(&[0xF9, 0xA8, 0][..]), "{} shades", pixels.len());
    assert_eq!(on(Stock::Yellow).rows[..3], [0xF9, 0xA8, 0]);
    assert!(on(Stock::Silver).rows[0] < 255);
}

#[test]
fn a_picture_of_too_many_pixels_is_refused() {
    let refused = png(&square(Dots::Dpi203), &Palette::BlackOnly, Stock::White, 480 * 160 - 1).unwrap_err();
    assert_eq!(refused.to_string(), "a picture has 76800 pixels, and 76799 are accepted");
    assert!(png(&square(Dots::Dpi203), &Palette::BlackOnly, Stock::White, 480 * 160).is_ok());
}

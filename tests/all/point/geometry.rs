//! Where the parts of a drawing lie: points worked out by hand from the SVG recommendation's rules for transforms,
//! view boxes and fills, and random drawings compared, dot by dot, with what the engine paints.

use bedplate::domain::drawing::Drawing;
use bedplate::svg;
use proptest::prelude::*;

fn outline(svg: &str) -> Drawing {
    svg::outline(svg.as_bytes(), None).unwrap_or_else(|fault| panic!("{fault}")).drawing
}

/// The drawing of these elements in a view box of 100 by 100.
fn of(inside: &str) -> Drawing {
    outline(&format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'>{inside}</svg>"))
}

fn at(drawing: &Drawing, x: f64, y: f64) -> Option<&str> {
    drawing.part_at([x, y]).map(|part| drawing.parts[part].id.as_str())
}

#[test]
fn transforms_are_applied_from_the_inside_out() {
    // (10..30, 0..5), twice as large (20..60, 0..10), turned by 90 degrees, which takes (x, y) to (-y, x), so
    // (-10..0, 20..60), moved by (50, 10): (40..50, 30..70).
    let drawing = of("<g transform='translate(50 10) rotate(90)'><g transform='scale(2)'>\
                      <rect id='a' x='10' width='20' height='5'/></g></g>");
    for (x, y) in [(40.5, 30.5), (49.5, 69.5), (45.0, 50.0)] {
        assert_eq!(at(&drawing, x, y), Some("a"), "{x} {y}");
    }
    for (x, y) in [(39.0, 50.0), (51.0, 50.0), (45.0, 29.0), (45.0, 71.0)] {
        assert_eq!(at(&drawing, x, y), None, "{x} {y}");
    }
    assert_eq!(drawing.parts[0].bounds.map(|b| b.map(|p| p.map(f64::round))), Some([[40.0, 30.0], [50.0, 70.0]]));
}

#[test]
fn points_are_in_the_units_of_the_view_box_whatever_the_width_and_height() {
    let rect = "<rect id='a' x='120' y='220' width='10' height='10'/></svg>";
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='100 200 50 50'";
    for size in ["", " width='400' height='200'", " width='10mm'", " width='30' height='90'"] {
        let drawing = outline(&format!("{svg}{size}>{rect}"));
        assert_eq!(at(&drawing, 125.0, 225.0), Some("a"), "{size}");
        assert_eq!(at(&drawing, 118.0, 225.0), None, "{size}");
        assert!(drawing.holds([100.0, 200.0]) && drawing.holds([150.0, 250.0]), "{size}");
    }
    // Fitted into 400 by 200 the square stands in the middle: the picture goes on for 25 to either side.
    let drawing = outline(&format!("{svg} width='400' height='200'>{rect}"));
    assert_eq!((drawing.origin, drawing.size), ([75.0, 200.0], [100.0, 50.0]));
    assert!(!drawing.holds([74.0, 225.0]) && !drawing.holds([125.0, 199.0]));
    // Without a view box a unit is a px.
    let drawing = outline(
        "<svg xmlns='http://www.w3.org/2000/svg' width='200' height='100'>\
                           <circle id='a' cx='150' cy='50' r='20'/></svg>",
    );
    assert_eq!((at(&drawing, 150.0, 50.0), drawing.size), (Some("a"), [200.0, 100.0]));
}

#[test]
fn curves_are_followed() {
    // A circle of 10 at the middle: along the diagonal it ends at 7.07.
    let drawing = of("<circle id='a' cx='50' cy='50' r='10'/>");
    assert_eq!(at(&drawing, 56.9, 56.9), Some("a"));
    assert_eq!(at(&drawing, 57.7, 57.7), None);
    // The quadratic from (0, 0) by (50, 100) to (100, 0) is at (50, 50) half way: B(1/2) = P0/4 + P1/2 + P2/4.
    let drawing = of("<path id='a' d='M0 0Q50 100 100 0Z'/>");
    assert_eq!((at(&drawing, 50.0, 49.0), at(&drawing, 50.0, 51.0)), (Some("a"), None));
    // The cubic from (0, 0) by (0, 80) and (100, 80) to (100, 0): B(1/2) = (P0 + 3 P1 + 3 P2 + P3) / 8 = (50, 60).
    let drawing = of("<path id='a' d='M0 0C0 80 100 80 100 0Z'/>");
    assert_eq!((at(&drawing, 50.0, 59.0), at(&drawing, 50.0, 61.0)), (Some("a"), None));
}

#[test]
fn a_line_counts_as_wide_as_it_is_drawn_and_a_thin_one_a_little_wider() {
    let drawing = of("<line id='a' x1='10' y1='50' x2='90' y2='50' stroke='black' stroke-width='8'/>");
    assert_eq!((at(&drawing, 50.0, 53.9), at(&drawing, 50.0, 55.0)), (Some("a"), None));
    assert_eq!(at(&drawing, 8.0, 50.0), None, "it ends where it ends");
    let drawing = of("<line id='a' x1='10' y1='50' x2='90' y2='50' stroke='black' stroke-width='0.1'/>");
    assert_eq!((at(&drawing, 50.0, 50.6), at(&drawing, 50.0, 51.0)), (Some("a"), None));
    // A broken line is hit between its dashes too.
    let dashed =
        "<line id='a' x1='0' y1='50' x2='99' y2='50' stroke='black' stroke-width='2' stroke-dasharray='10 20'/>";
    assert_eq!(at(&of(dashed), 20.0, 50.0), Some("a"));
    // In the gap between two parts the nearer one counts.
    let drawing = of("<rect id='a' width='49.5' height='100'/><rect id='b' x='50' width='50' height='100'/>");
    assert_eq!((at(&drawing, 49.6, 50.0), at(&drawing, 49.9, 50.0)), (Some("a"), Some("b")));
}

#[test]
fn holes_are_holes_by_the_fill_rule() {
    let two = "M10 10H90V90H10ZM30 30H70V70H30Z";
    let drawing = of(&format!("<path id='a' fill-rule='evenodd' d='{two}'/>"));
    assert_eq!((at(&drawing, 20.0, 50.0), at(&drawing, 50.0, 50.0)), (Some("a"), None));
    assert_eq!(at(&of(&format!("<path id='a' d='{two}'/>")), 50.0, 50.0), Some("a"));
    let round_the_other_way = "M10 10H90V90H10ZM30 30V70H70V30Z";
    assert_eq!(at(&of(&format!("<path id='a' d='{round_the_other_way}'/>")), 50.0, 50.0), None);
}

#[test]
fn the_foremost_part_counts_and_what_is_no_part_is_passed_over() {
    let drawing = of("<rect id='back' width='60' height='60'><title>back</title></rect>\
                      <rect id='front' x='40' y='40' width='60' height='60'><title>front</title></rect>\
                      <rect width='100' height='100' fill='red'/><rect id='veil' width='100' height='100'/>");
    assert_eq!((at(&drawing, 50.0, 50.0), at(&drawing, 20.0, 20.0)), (Some("front"), Some("back")));
    assert_eq!(drawing.others, ["veil"]);
    let ids: Vec<&str> = drawing.parts.iter().map(|p| p.id.as_str()).collect();
    assert_eq!(ids, ["back", "front"]);
}

#[test]
fn a_group_is_one_part_and_what_has_a_name_in_it_is_a_piece_of_it() {
    let drawing = of("<g id='pump'><title>pump</title><rect width='20' height='20'/>\
                      <g><circle id='wheel' cx='60' cy='60' r='9'><title>wheel</title></circle></g></g>");
    let (pump, wheel) = (drawing.part("pump").expect("a part"), drawing.part("wheel").expect("a part"));
    assert_eq!((at(&drawing, 10.0, 10.0), at(&drawing, 60.0, 60.0)), (Some("pump"), Some("wheel")));
    assert!(drawing.lies_within(wheel, pump) && !drawing.lies_within(pump, wheel) && drawing.lies_within(pump, pump));
    assert_eq!(drawing.parts[pump].bounds.map(|b| b[1]), Some([69.0, 69.0]), "with its pieces");
}

#[test]
fn an_outline_without_fill_counts_as_filled_and_gives_way_to_what_lies_inside() {
    let outline = "fill='none' stroke='black' stroke-width='2'";
    // A casing drawn over its wheel; a vent drawn over the edge of a filled tank.
    let drawing = of(&format!(
        "<circle id='wheel' cx='30' cy='30' r='8'/><rect id='casing' x='10' y='10' width='40' height='40' {outline}/>\
         <rect id='tank' x='60' y='40' width='40' height='60'/><circle id='vent' cx='70' cy='40' r='6' {outline}/>"
    ));
    for (x, y, part) in [
        (30.0, 30.0, "wheel"),
        (15.0, 30.0, "casing"),
        (10.0, 30.0, "casing"),
        (70.0, 42.0, "vent"),
        (70.0, 37.0, "vent"),
        (90.0, 42.0, "tank"),
    ] {
        assert_eq!(at(&drawing, x, y), Some(part), "{x} {y}");
    }
    // An open line has no inside.
    let open = of(&format!("<path id='a' d='M10 10V90H90' {outline}/>"));
    assert_eq!((at(&open, 40.0, 60.0), at(&open, 10.0, 40.0)), (None, Some("a")));
}

#[test]
fn what_is_not_shown_is_not_hit_and_what_is_cut_off_is_not_either() {
    let drawing = of("<defs><clipPath id='c'><rect width='50' height='100'/></clipPath></defs>\
                      <g clip-path='url(#c)'><rect id='a' width='100' height='30'><title>a</title></rect></g>\
                      <rect id='b' y='60' width='100' height='30' visibility='hidden'><title>b</title></rect>\
                      <g display='none'><rect id='d' y='40' width='9' height='9'><title>d</title></rect></g>\
                      <rect id='e' y='90' width='10' height='10' fill-opacity='0'><title>e</title></rect>");
    assert_eq!((at(&drawing, 20.0, 20.0), at(&drawing, 60.0, 20.0)), (Some("a"), None));
    assert_eq!((at(&drawing, 50.0, 70.0), at(&drawing, 5.0, 45.0)), (None, None));
    assert_eq!(at(&drawing, 5.0, 95.0), Some("e"), "see-through counts");
    assert_eq!(drawing.parts.len(), 2);
    assert!(["b", "d", "c"].iter().all(|id| drawing.others.iter().any(|other| other == id)), "{:?}", drawing.others);
    // A clip of two pieces, and one inside another.
    let drawing = of("<clipPath id='c'><rect width='20' height='20'/><rect x='80' width='20' height='20'/></clipPath>\
                      <clipPath id='d'><rect width='100' height='10'/></clipPath>\
                      <g clip-path='url(#d)'><rect id='a' width='100' height='100' clip-path='url(#c)'/></g>");
    assert_eq!((at(&drawing, 5.0, 5.0), at(&drawing, 95.0, 5.0)), (Some("a"), Some("a")));
    assert_eq!((at(&drawing, 50.0, 5.0), at(&drawing, 5.0, 15.0)), (None, None));
}

#[test]
fn what_is_used_in_the_place_of_an_element_is_that_element() {
    let valve = "<defs><g id='symbol'><title>a symbol</title><path id='body' d='M-5-5V5L5-5V5Z'/></g></defs>";
    let drawing = of(&format!(
        "{valve}<use id='left' href='#symbol' x='20' y='50'><title>left valve</title></use>\
         <use id='right' href='#symbol' transform='translate(80 50)'><title>right valve</title></use>"
    ));
    assert_eq!((at(&drawing, 17.0, 50.0), at(&drawing, 77.0, 50.0)), (Some("left"), Some("right")));
    assert_eq!(drawing.parts.len(), 2, "the symbol is no part of its own: {:?}", drawing.parts);
}

#[test]
fn text_counts_as_its_rectangle() {
    let drawing = of("<text id='a' x='20' y='50' font-size='20'>HFO</text>");
    assert_eq!((at(&drawing, 30.0, 44.0), at(&drawing, 30.0, 70.0)), (Some("a"), None));
}

#[test]
fn names_come_from_titles_then_labels_then_ids() {
    let drawing =
        of("<title>The drawing</title><rect id='a' width='9' height='9'><title> quick-closing\n valve </title>\
                      <desc>two triangles</desc></rect><rect id='b' y='20' width='9' height='9' aria-label='pump'/>");
    let names: Vec<(&str, Option<&str>)> = drawing.parts.iter().map(|p| (p.name.as_str(), p.look.as_deref())).collect();
    assert_eq!(names, [("quick-closing valve", Some("two triangles")), ("pump", None)]);
    let drawing = of("<rect id='drain-cock' width='9' height='9'/><g id='empty'/>");
    assert_eq!(drawing.parts[0].name, "drain cock");
    assert_eq!(drawing.others, ["empty"]);
}

/// One shape of a random drawing.
fn shape() -> impl Strategy<Value = String> {
    let number = |most: f64| (0.0..most).prop_map(|n| (n * 10.0).round() / 10.0);
    let place = (number(100.0), number(100.0), 5.0..45.0_f64, 5.0..45.0_f64);
    let turned = (number(360.0), 0.4..1.8_f64);
    (place, turned, 0..3_u8).prop_map(|((x, y, w, h), (turn, scale), kind)| {
        let place = format!("transform='translate({x} {y}) rotate({turn}) scale({scale:.2})'");
        match kind {
            0 => format!("<rect {place} x='-5' y='-5' width='{w:.1}' height='{h:.1}' ID/>"),
            1 => format!("<ellipse {place} rx='{w:.1}' ry='{h:.1}' ID/>"),
            _ => format!("<path {place} d='M0 0C{w:.1} 0 {w:.1} {h:.1} 0 {h:.1}Q-{w:.1} 9 0 0Z' ID/>"),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn the_part_that_is_hit_is_the_one_that_the_engine_paints(shapes in prop::collection::vec(shape(), 1..9)) {
        let inside: String = shapes.iter().enumerate().map(|(n, shape)| {
            shape.replace("ID", &format!("id='s{n}' fill='#{:02x}8040' shape-rendering='crispEdges'", 20 * (n + 1)))
        }).collect();
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'>{inside}</svg>");
        let drawing = outline(&text);
        let dots = svg::draw(text.as_bytes(), |_, _| (400, 400)).expect("drawn");
        let painted = |x: usize, y: usize| {
            let dot = &dots.rgba[4 * (400 * y + x)..][..4];
            (dot[3] > 0).then(|| format!("s{}", dot[0] / 20 - 1))
        };
        for y in (3..397).step_by(7) {
            for x in (3..397).step_by(7) {
                // Near an edge it may go either way.
                let here = painted(x, y);
                if (0..7).any(|dy| (0..7).any(|dx| painted(x + dx - 3, y + dy - 3) != here)) {
                    continue;
                }
                let units = [(x as f64 + 0.5) / 4.0, (y as f64 + 0.5) / 4.0];
                let hit = drawing.part_at(units).map(|part| drawing.parts[part].id.clone());
                prop_assert_eq!(hit, here, "at {:?} of {}", units, text);
            }
        }
    }
}

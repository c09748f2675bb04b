//! The geometry of schematics: nothing over anything else, corners and bridges where they belong, symbols that lie
//! along their pipes. Words are as wide here as they are long; what is asserted holds for any width.

use std::collections::BTreeMap;

use bedplate::app::views::kinds::lineup::asked;
use bedplate::domain::piping::{Network, NodeKind};
use bedplate::ui::schematic::{Dir, Fill, Layout, Leg, Look, Model, Part, Side, Text, lay, symbol};
use eframe::egui::{Pos2, Rect, Vec2, pos2, vec2};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::support::networks::{bilge_network, fuel_network, large_network, written};

/// As drawn: the width of the sheet's content and what is left of its height.
const PLACE: Vec2 = Vec2::new(912.0, 372.0);

fn width(text: &str, kind: Text) -> f32 {
    let letter = if kind == Text::State { 5.8 } else { 6.8 };
    text.chars().count() as f32 * letter
}

fn laid(network: &Network, place: Vec2) -> (Model, Layout) {
    let model = Model::of(&asked(network).schematic);
    let layout = lay(&model, place, &width);
    (model, layout)
}

fn node(network: &Network, key: &str) -> usize {
    network.node_of(key).unwrap_or_else(|| panic!("{key}"))
}

/// Everything that may not lie over anything else, with a name for the message.
fn things(layout: &Layout) -> Vec<(String, Rect)> {
    let mut all = Vec::new();
    for (n, placed) in layout.symbols.iter().enumerate() {
        all.push((format!("symbol {n}"), placed.body));
        all.extend(placed.spindle.map(|s| (format!("spindle {n}"), s)));
        all.extend(placed.label.as_ref().map(|l| (format!("label {n} {:?}", l.lines), l.rect)));
    }
    all.extend(layout.media.iter().map(|m| (format!("{:?}", m.medium), m.rect)));
    all
}

fn over(a: Rect, b: Rect) -> bool {
    let both = a.intersect(b);
    both.width() > 0.1 && both.height() > 0.1
}

/// Nothing lies over anything else; words keep clear of every pipe, and symbols of every pipe but their own.
fn clear(name: &str, model: &Model, layout: &Layout) {
    assert_eq!(layout.crowded, 0, "{name}");
    let all = things(layout);
    for (i, (a, rect)) in all.iter().enumerate() {
        for (b, other) in &all[i + 1..] {
            // A spindle stands on its own body.
            let own = a.split(' ').nth(1) == b.split(' ').nth(1) && b.starts_with("spindle");
            assert!(own || !over(*rect, *other), "{name}: {a} and {b} lie over one another: {rect:?} {other:?}");
        }
        let whole = Rect::from_min_size(Pos2::ZERO, layout.size);
        assert!(whole.contains_rect(*rect), "{name}: {a} stands out of the drawing");
    }
    for (pipe, route) in layout.routes.iter().enumerate() {
        let line = &model.lines[pipe];
        for (from, to) in route.parts() {
            assert!(from.x == to.x || from.y == to.y, "{name}: pipe {pipe} runs aslant");
            let wide = Rect::from_two_pos(from, to).expand(3.0);
            for (n, placed) in layout.symbols.iter().enumerate() {
                if n != line.from && n != line.to {
                    assert!(!over(wide, placed.body), "{name}: pipe {pipe} runs over symbol {n}");
                }
                if let Some(label) = &placed.label {
                    assert!(!over(wide, label.rect), "{name}: pipe {pipe} runs over {:?}", label.lines);
                }
            }
            for named in &layout.media {
                assert!(!over(wide, named.rect), "{name}: pipe {pipe} runs over a medium's name");
            }
        }
    }
}

#[test]
fn nothing_lies_over_anything_else_at_any_size() {
    let samples = [("fuel", fuel_network()), ("bilge", bilge_network()), ("large", large_network())];
    for (name, network) in &samples {
        for place in [PLACE, vec2(848.0, 224.0), vec2(440.0, 168.0), vec2(1100.0, 600.0), vec2(1.0, 1.0)] {
            let (model, layout) = laid(network, place);
            clear(&format!("{name} in {place:?}"), &model, &layout);
        }
    }
}

#[test]
fn what_fits_is_not_made_smaller_and_fills_its_place() {
    for network in [fuel_network(), bilge_network()] {
        let (_, layout) = laid(&network, vec2(912.0, 400.0));
        assert!(layout.size.x <= 912.0 && layout.size.y <= 400.0, "{:?}", layout.size);
        assert!(layout.size.x > 700.0, "the width is used: {:?}", layout.size);
    }
}

#[test]
fn the_grid_of_the_deck_is_kept() {
    let network = fuel_network();
    let (_, layout) = laid(&network, PLACE);
    for (a, at_a) in network.nodes.iter().enumerate().filter_map(|(n, node)| Some((n, node.at?))) {
        for (b, at_b) in network.nodes.iter().enumerate().filter_map(|(n, node)| Some((n, node.at?))) {
            let (pa, pb) = (layout.symbols[a].center, layout.symbols[b].center);
            assert_eq!(at_a[0].cmp(&at_b[0]), pa.x.total_cmp(&pb.x), "columns of {a} and {b}");
            assert_eq!(at_a[1].cmp(&at_b[1]), pa.y.total_cmp(&pb.y), "rows of {a} and {b}");
        }
    }
}

#[test]
fn every_medium_is_named_on_one_of_its_pipes() {
    for network in [fuel_network(), bilge_network(), large_network()] {
        let (model, layout) = laid(&network, PLACE);
        for medium in model.media() {
            let named = layout.media.iter().find(|m| m.medium == medium).unwrap_or_else(|| panic!("{medium:?}"));
            assert_eq!(model.lines[named.pipe].medium, Some(medium));
            let near =
                layout.routes[named.pipe].parts().any(|(a, b)| over(Rect::from_two_pos(a, b).expand(10.0), named.rect));
            assert!(near, "{medium:?} stands on its pipe");
        }
    }
}

/// A cross of two pipes with valves on them, and nothing where they cross.
const CROSS: &str = r#"
node = [
  { key = "left", kind = "tank", name = "Left tank", at = [1, 2], medium = "fuel-oil" },
  { key = "right", kind = "tank", name = "Right tank", at = [5, 2] },
  { key = "top", kind = "sea-chest", name = "Top", at = [3, 1], medium = "sea-water" },
  { key = "bottom", kind = "overboard", name = "Bottom", at = [3, 4] },
  { key = "valve", kind = "valve", name = "Valve", at = [3, 3] },
  { key = "aside", kind = "valve", name = "Aside", at = [5, 4] },
]
pipe = [
  { from = "left", to = "right" },
  { from = "top", to = "valve" },
  { from = "valve", to = "bottom" },
  { from = "right", to = "aside" },
  { from = "aside", to = "bottom" },
]
demand = []
"#;

#[test]
fn where_pipes_cross_unjoined_the_level_one_has_a_bridge_and_only_there() {
    let network = written(CROSS);
    let (_, layout) = laid(&network, PLACE);
    let crossing =
        pos2(layout.symbols[node(&network, "top")].center.x, layout.symbols[node(&network, "left")].center.y);
    assert_eq!(layout.routes[0].bridges, [(0, crossing)]);
    assert!(layout.routes[1..].iter().all(|route| route.bridges.is_empty()));
    // Pipes that meet in a junction, or end at one another's symbols, have none.
    let (_, fuel) = laid(&fuel_network(), PLACE);
    assert!(fuel.routes.iter().all(|route| route.bridges.is_empty()));
}

#[test]
fn a_corner_that_the_deck_leaves_open_is_laid_where_it_does_least_harm() {
    // From the bilge suction up to the pump: level first, so that the valve lies straight, then up into the pump.
    let network = bilge_network();
    let (_, layout) = laid(&network, PLACE);
    let pipe = network.pipes.iter().position(|p| network.nodes[p.from].key == "bilge-suction").expect("it is there");
    let route = &layout.routes[pipe].points;
    assert_eq!(route.len(), 3);
    assert_eq!(route[0].y, route[1].y, "level first");
    let pump = &layout.symbols[node(&network, "pump")];
    assert_eq!((route[2].x, route[2].y), (pump.center.x, pump.body.bottom()), "and up to the edge of the pump");
}

#[test]
fn pipes_end_at_the_edges_of_their_symbols() {
    let network = fuel_network();
    let (model, layout) = laid(&network, PLACE);
    for (line, route) in model.lines.iter().zip(&layout.routes) {
        let (first, last) = (route.points[0], route.points[route.points.len() - 1]);
        for (node, end) in [(line.from, first), (line.to, last)] {
            let body = layout.symbols[node].body;
            let nearest = body.shrink(0.01).clamp(end);
            assert!((nearest - end).length() < 0.1, "{end:?} ends at {body:?}");
        }
    }
}

#[test]
fn symbols_lie_along_their_pipes() {
    let network = fuel_network();
    let (_, layout) = laid(&network, PLACE);
    let body = |key: &str| layout.symbols[node(&network, key)].body;
    assert!(body("qcv").width() > body("qcv").height(), "in a level pipe it lies level");
    assert!(body("drain").height() > body("drain").width(), "in an upright one upright");
    let cock = &layout.symbols[node(&network, "inlet-cock")];
    assert_eq!(cock.ways, Some([Some(Dir::Up), Some(Dir::Down)]), "its ways lead up to filter 1 and down to filter 2");
}

fn leg(dir: Dir, out: bool) -> Leg {
    Leg { dir, pipe: 0, out }
}

fn drawn(kind: NodeKind, legs: &[Leg], open: bool) -> Vec<Part> {
    let body = Rect::from_center_size(Pos2::ZERO, vec2(24.0, 24.0));
    symbol(kind, &Look { legs, body, open, ways: None })
}

fn shapes(parts: &[Part]) -> Vec<(&[Pos2], Fill)> {
    parts
        .iter()
        .filter_map(|part| if let Part::Shape(points, fill) = part { Some((&points[..], *fill)) } else { None })
        .collect()
}

#[test]
fn a_valve_is_in_outline_when_open_and_filled_when_shut() {
    let legs = [leg(Dir::Left, false), leg(Dir::Right, true)];
    for kind in [NodeKind::Valve, NodeKind::QuickClosing, NodeKind::ScrewDownNonReturn] {
        for (open, fill) in [(true, Fill::Sheet), (false, Fill::Ink)] {
            let parts = drawn(kind, &legs, open);
            assert!(shapes(&parts).iter().all(|(_, f)| *f == fill) && !shapes(&parts).is_empty(), "{kind:?}");
        }
    }
    let parts = drawn(NodeKind::NonReturn, &legs, true);
    assert!(shapes(&parts).iter().all(|(_, fill)| *fill == Fill::Sheet));
}

/// Where the tip of a one-way symbol points: from the middle of its triangle's base to its tip.
fn points_to(parts: &[Part]) -> Vec2 {
    let shapes = shapes(parts);
    let triangle = shapes.iter().map(|(points, _)| *points).find(|points| points.len() == 3).expect("a triangle");
    let alike = |axis: fn(&Pos2) -> f32| {
        (0..3).find(|n| {
            let others: Vec<f32> = (0..3).filter(|m| m != n).map(|m| axis(&triangle[m])).collect();
            (others[0] - others[1]).abs() < 0.01 && (axis(&triangle[*n]) - others[0]).abs() > 0.01
        })
    };
    let tip = alike(|p| p.x).filter(|n| triangle[*n].y.abs() < 0.01).or_else(|| alike(|p| p.y)).expect("a tip");
    let base: Vec<Pos2> = (0..3).filter(|n| *n != tip).map(|n| triangle[n]).collect();
    triangle[tip] - (base[0] + (base[1] - base[0]) / 2.0)
}

#[test]
fn what_passes_one_way_points_with_the_flow() {
    for kind in [NodeKind::Pump, NodeKind::NonReturn, NodeKind::ScrewDownNonReturn] {
        for (into, out) in
            [(Dir::Left, Dir::Right), (Dir::Right, Dir::Left), (Dir::Up, Dir::Down), (Dir::Down, Dir::Up)]
        {
            let parts = drawn(kind, &[leg(into, false), leg(out, true)], true);
            let way = points_to(&parts);
            assert!(way.dot(out.step()) > 5.0, "{kind:?} from {into:?} to {out:?} points {way:?}");
        }
    }
}

#[test]
fn of_a_three_way_valve_the_legs_that_are_shut_are_filled() {
    let legs = [leg(Dir::Left, false), leg(Dir::Up, true), leg(Dir::Down, true)];
    let body = Rect::from_center_size(Pos2::ZERO, vec2(24.0, 24.0));
    let filled = |joined: Option<usize>| {
        let look = Look { legs: &legs, body, open: true, ways: Some(([Some(Dir::Up), Some(Dir::Down)], joined)) };
        let parts = symbol(NodeKind::ThreeWay, &look);
        shapes(&parts)
            .iter()
            .filter(|(_, fill)| *fill == Fill::Ink)
            .map(|(points, _)| points[1].y.signum())
            .collect::<Vec<_>>()
    };
    assert_eq!(filled(Some(0)), [1.0], "up is joined, down is shut");
    assert_eq!(filled(Some(1)), [-1.0]);
    assert_eq!(filled(None), [-1.0, 1.0], "on neither way both are shut");
}

#[test]
fn where_two_pipes_meet_there_is_no_gap() {
    for legs in [[leg(Dir::Left, false), leg(Dir::Right, true)], [leg(Dir::Up, false), leg(Dir::Right, true)]] {
        let parts = drawn(NodeKind::Junction, &legs, false);
        let Some(Part::Circle(center, radius, Fill::Medium)) = parts.first() else { panic!("{parts:?}") };
        // Pipes end at the edge of the symbol's body, and the dot reaches it.
        let network = bend();
        let (_, layout) = laid(&network, PLACE);
        let body = layout.symbols[1].body;
        assert_eq!((*center, *radius), (Pos2::ZERO, body.width() / 2.0));
    }
}

/// Two pipes that meet in a junction.
fn bend() -> Network {
    crate::piping::examine::network(&["t tank", "j junction", "e engine"], &["t>j", "j>e"], &["t>e"])
}

#[test]
fn a_valve_round_a_corner_has_its_halves_at_its_two_pipes() {
    let parts = drawn(NodeKind::Valve, &[leg(Dir::Left, false), leg(Dir::Down, true)], false);
    let out: Vec<Vec2> = shapes(&parts).iter().map(|(p, _)| (p[1].to_vec2() + p[2].to_vec2()) / 2.0).collect();
    assert_eq!(out, [vec2(-12.0, 0.0), vec2(0.0, 12.0)]);
}

#[test]
fn names_prefer_to_stand_under_their_symbols_and_beside_them_in_upright_pipes() {
    let network = fuel_network();
    let (_, layout) = laid(&network, PLACE);
    let side = |key: &str| layout.symbols[node(&network, key)].label.as_ref().map(|l| l.side);
    assert_eq!(side("qcv"), Some(Side::Below));
    assert_eq!(side("return"), Some(Side::Below));
    assert_eq!(side("cross"), Some(Side::Right));
    assert_eq!(side("tee"), None, "a junction of pipes has no name on the drawing");
    assert_eq!(side("service-tank"), None, "a tank's stands inside");
}

/// Networks as no one would draw them: nodes anywhere, pipes between any two.
fn random(seed: u64) -> Network {
    let mut random = StdRng::seed_from_u64(seed);
    let count = random.random_range(2..26_usize);
    let kinds = NodeKind::ALL;
    let mut nodes: BTreeMap<[i32; 2], NodeKind> = BTreeMap::new();
    while nodes.len() < count {
        nodes
            .insert([random.random_range(0..9), random.random_range(0..7)], kinds[random.random_range(0..kinds.len())]);
    }
    let words = ["Sea", "suction", "Delivery", "emergency", "valve", "of", "the", "cooler", "2", "Overboard"];
    let nodes: Vec<_> = nodes.into_iter().collect();
    let mut text = String::from("node = [\n");
    for (n, (at, kind)) in nodes.iter().enumerate() {
        let name: Vec<&str> =
            (0..random.random_range(1..5)).map(|_| words[random.random_range(0..words.len())]).collect();
        let ways = if *kind == NodeKind::ThreeWay { ", ways = [\"n0\", \"n1\"]" } else { "" };
        text += &format!(
            "{{ key = \"n{n}\", kind = \"{}\", name = \"{}\", at = [{}, {}]{ways} }},\n",
            kind.word(),
            name.join(" "),
            at[0],
            at[1]
        );
    }
    text += "]\npipe = [\n";
    for _ in 0..random.random_range(1..30) {
        let (from, to) = (random.random_range(0..count), random.random_range(0..count));
        if from != to {
            text += &format!("{{ from = \"n{from}\", to = \"n{to}\" }},\n");
        }
    }
    written(&(text + "]\ndemand = []\n"))
}

#[test]
fn whatever_a_deck_holds_is_laid_out_with_symbols_apart() {
    for seed in 0..200 {
        let network = random(seed);
        let (_, layout) = laid(&network, PLACE);
        assert!(layout.size.x.is_finite() && layout.size.y < 20_000.0, "{seed}: {:?}", layout.size);
        for (n, placed) in layout.symbols.iter().enumerate() {
            for (m, other) in layout.symbols.iter().enumerate().skip(n + 1) {
                assert!(!over(placed.body, other.body), "{seed}: symbols {n} and {m} lie over one another");
            }
        }
    }
}

#[test]
fn words_that_find_no_place_among_senseless_pipes_are_few() {
    let (mut names, mut crowded) = (0, 0);
    for seed in 0..200 {
        let (_, layout) = laid(&random(seed), PLACE);
        names += layout.symbols.iter().filter(|s| s.label.is_some()).count();
        crowded += layout.crowded;
    }
    assert!(crowded * 50 < names, "{crowded} of {names}");
}

#[test]
fn the_same_network_is_always_laid_out_alike() {
    let network = large_network();
    assert_eq!(laid(&network, PLACE).1, laid(&network, PLACE).1);
}

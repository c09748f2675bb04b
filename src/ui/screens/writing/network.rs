//! The network of a line-up drawn on a grid: nodes are placed and moved, pipes pulled from one to the next, demands named.
//! Places are called by zone, as on a drawing: a letter for the row, a number for the column.

use eframe::egui::{
    Align2, CornerRadius, Id, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::domain::english;
use crate::domain::network_form::{DemandForm, NetworkForm, NodeForm, PipeForm, Spot};
use crate::domain::piping::NodeKind;
use crate::present::words;
use crate::ui::keys;
use crate::ui::kit::{self, Field, field, heading, label_in, lines, paint};
use crate::ui::schematic::bare_symbol;
use crate::ui::theme::measure::{CORNER, FOCUS, LINE, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// From one place of the grid to the next.
const PITCH: f32 = S40 + S16;
/// The least board, in places.
const LEAST: [i64; 2] = [10, 5];

/// The place in hand, and what is being done.
#[derive(Default)]
pub(super) struct BoardLocal {
    at: Option<Spot>,
    /// A pipe that is being pulled: the node that it leaves, and its corners so far.
    pull: Option<(String, Vec<Spot>)>,
    /// A node that is being moved, by key.
    moving: Option<String>,
    kind: usize,
    /// Another place has come into the hand by keys: it is brought into sight.
    moved: bool,
}

impl BoardLocal {
    /// Escape lets go of a pipe, or of a node, first.
    pub(super) fn takes_escape(&self) -> bool {
        self.pull.is_some() || self.moving.is_some()
    }

    pub(super) fn let_go(&mut self) {
        (self.pull, self.moving) = (None, None);
    }

    fn at(&self, network: &NetworkForm) -> Spot {
        self.at.or_else(|| network.nodes.first().map(|node| node.at)).unwrap_or([1, 1])
    }

    /// Places a node of the kind that was placed last.
    pub(super) fn place(&mut self, network: &mut NetworkForm) {
        let at = self.at(network);
        if network.node_at(at).is_none() {
            let kind = NodeKind::ALL[self.kind % NodeKind::ALL.len()];
            network.place(kind.word(), english::capital(&kind.word().replace('-', " ")), at);
        }
    }

    /// Begins a pipe at a node, turns it at an empty place, ends it at another node.
    pub(super) fn pull(&mut self, network: &mut NetworkForm) {
        let at = self.at(network);
        let node = network.node_at(at).map(|node| network.nodes[node].key.clone());
        match (self.pull.take(), node) {
            (None, Some(key)) => self.pull = Some((key, Vec::new())),
            (None, None) => {}
            (Some((from, mut via)), None) => {
                via.push(at);
                self.pull = Some((from, via));
            }
            (Some((from, via)), Some(to)) if from == to => self.pull = Some((from, via)),
            (Some((from, via)), Some(to)) => network.pipes.push(PipeForm { was: None, from, to, via }),
        }
    }

    /// Takes the node in hand up, or puts it down at an empty place.
    pub(super) fn carry(&mut self, network: &mut NetworkForm) {
        let at = self.at(network);
        match (self.moving.take(), network.node_at(at)) {
            (None, Some(node)) => self.moving = Some(network.nodes[node].key.clone()),
            (Some(key), None) => {
                if let Some(node) = network.nodes.iter_mut().find(|node| node.key == key) {
                    node.at = at;
                }
            }
            (Some(key), Some(_)) => self.moving = Some(key),
            (None, None) => {}
        }
    }

    /// A new demand, which begins at the node in hand.
    pub(super) fn demand(&mut self, network: &mut NetworkForm) {
        let node = network.node_at(self.at(network)).map(|node| network.nodes[node].key.clone());
        network.demands.push(DemandForm { stops: node.into_iter().collect(), ..DemandForm::default() });
    }

    /// Leaves the node in hand out.
    pub(super) fn leave_out(&mut self, network: &mut NetworkForm) {
        if let Some(node) = network.node_at(self.at(network)) {
            network.leave_out(node);
        }
        self.let_go();
    }

    fn by_keys(&mut self, ui: &Ui, network: &mut NetworkForm) {
        let [mut column, mut row] = self.at(network);
        let strokes = [(keys::UP, 0, -1), (keys::DOWN, 0, 1), (keys::TO_LEFT, -1, 0), (keys::RIGHT, 1, 0)];
        for (hot, right, down) in strokes {
            if keys::take_repeated(ui, hot) {
                (column, row) = ((column + right).clamp(0, 99), (row + down).clamp(0, 99));
            }
        }
        self.moved = self.at.is_some_and(|at| at != [column, row]);
        self.at = Some([column, row]);
        let Some(node) = network.node_at([column, row]).and_then(|node| network.nodes.get_mut(node)) else { return };
        if keys::take(ui, keys::SPACE) {
            node.open = !node.open && kind_of(node).is_none_or(NodeKind::can_be_shut);
        }
        if keys::take(ui, keys::letter('K')) {
            self.kind = NodeKind::ALL.iter().position(|kind| kind.word() == node.kind).map_or(0, |at| at + 1);
            NodeKind::ALL[self.kind % NodeKind::ALL.len()].word().clone_into(&mut node.kind);
            node.open &= kind_of(node).is_none_or(NodeKind::can_be_shut);
        }
    }
}

fn kind_of(node: &NodeForm) -> Option<NodeKind> {
    NodeKind::ALL.into_iter().find(|kind| kind.word() == node.kind)
}

/// A place by its zone: `C6`; by its figures where there is no letter for the row.
pub(super) fn zone([column, row]: Spot) -> String {
    match u8::try_from(row).ok().filter(|row| (1..=26).contains(row)) {
        Some(row) => format!("{}{column}", char::from(b'A' + row - 1)),
        None => format!("column {column}, row {row}"),
    }
}

/// Draws the board with what stands below it.
pub(super) fn network_ui(ui: &mut Ui, network: &mut NetworkForm, local: &mut BoardLocal) {
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, "The drawing", Size::Body, Cut::Semi);
    let words = "Arrows go over the grid. A pipe is pulled from node to node, with a corner at each empty place. Space turns \
                 a valve, K changes the kind of a node.";
    label_in(ui, ui.available_width(), words, Size::Label, Cut::Regular, p.ink_second);
    keys::offer(ui.ctx(), keys::SPACE, "Turn the valve in hand");
    keys::offer(ui.ctx(), keys::letter('K'), "Another kind for the node in hand");
    ui.add_space(S8);
    local.by_keys(ui, network);
    board_ui(ui, network, local);
    ui.add_space(S8);
    label_in(ui, ui.available_width(), &in_hand(network, local), Size::Label, Cut::Semi, p.ink);
    node_ui(ui, network, local);
    demands_ui(ui, network);
}

/// What is at the place in hand, and what is being done, in words.
fn in_hand(network: &NetworkForm, local: &BoardLocal) -> String {
    let at = local.at(network);
    let place = zone(at);
    let is = match network.node_at(at).and_then(|node| network.nodes.get(node)) {
        None => "nothing".to_owned(),
        Some(node) => {
            let pipes = network.pipes.iter().filter(|pipe| pipe.from == node.key || pipe.to == node.key).count();
            let stands = match kind_of(node).is_some_and(NodeKind::can_be_shut) {
                true if node.open => ", open",
                true => ", shut",
                false => "",
            };
            format!("{} ({}){stands}, {}", node.name, node.kind, words::count(pipes, "pipe"))
        }
    };
    let name = |key: &String| network.node_of(key).map_or_else(|| key.clone(), |node| node.name.clone());
    match (&local.pull, &local.moving) {
        (Some((from, _)), _) => format!("{place}: {is}. A pipe is being pulled from {}.", name(from)),
        (_, Some(key)) => format!("{place}: {is}. {} is being moved.", name(key)),
        _ => format!("{place}: {is}."),
    }
}

/// The first and the last place that is shown.
fn bounds(network: &NetworkForm, at: Spot) -> (Spot, Spot) {
    let corners = network.pipes.iter().flat_map(|pipe| &pipe.via);
    let places = || network.nodes.iter().map(|node| &node.at).chain(corners.clone()).chain([&at]);
    let of = |axis: usize| {
        let (least, most) =
            places().fold((1, LEAST[axis]), |(least, most), spot| (least.min(spot[axis]), most.max(spot[axis])));
        (least - 1, most + 1)
    };
    let (columns, rows) = (of(0), of(1));
    ([columns.0, rows.0], [columns.1, rows.1])
}

fn board_ui(ui: &mut Ui, network: &NetworkForm, local: &mut BoardLocal) {
    let p = theme::palette(ui);
    let (here, moved) = (local.at(network), std::mem::take(&mut local.moved));
    let (first, last) = bounds(network, here);
    let size = vec2((last[0] - first[0] + 1) as f32 * PITCH, (last[1] - first[1] + 1) as f32 * PITCH);
    eframe::egui::ScrollArea::both().id_salt("board").max_height(PITCH * 8.0).show(ui, |ui| {
        let (id, place) = ui.allocate_space(size);
        let response = ui.interact(place, id, Sense::click());
        let said = format!("Drawing of the line-up, {}", words::count(network.nodes.len(), "node"));
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &said));
        let spot = |[column, row]: Spot| {
            pos2(
                place.left() + ((column - first[0]) as f32 + 0.5) * PITCH,
                place.top() + ((row - first[1]) as f32 + 0.5) * PITCH,
            )
        };
        if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
            let along = |from: f32, first: i64| first + (from / PITCH).floor() as i64;
            local.at = Some([along(at.x - place.left(), first[0]), along(at.y - place.top(), first[1])]);
        }
        grid_ui(ui, (first, last), &spot);
        for pipe in &network.pipes {
            if let Some(points) = points_of(network, pipe, &spot) {
                ui.painter().add(Shape::line(points, Stroke::new(FOCUS, p.line)));
            }
        }
        pulling_ui(ui, network, local, &spot);
        for node in &network.nodes {
            sign_ui(ui, node, spot(node.at));
        }
        let at = local.at(network);
        let hand = Rect::from_center_size(spot(at), vec2(PITCH - S8, PITCH - S8));
        let stroke = Stroke::new(FOCUS, p.bronze);
        ui.painter().rect_stroke(hand, CornerRadius::same(CORNER), stroke, StrokeKind::Inside);
        if moved && !ui.clip_rect().contains_rect(hand) {
            ui.scroll_to_rect(hand.expand(PITCH), None);
        }
    });
}

fn grid_ui(ui: &Ui, (first, last): (Spot, Spot), spot: &dyn Fn(Spot) -> Pos2) {
    let p = theme::palette(ui);
    for row in first[1]..=last[1] {
        for column in first[0]..=last[0] {
            ui.painter().circle_filled(spot([column, row]), LINE, p.hairline);
        }
    }
    for column in first[0]..=last[0] {
        let at = spot([column, first[1]]) - vec2(0.0, PITCH / 2.0 - S8);
        paint(ui.painter(), at, Align2::CENTER_CENTER, &column.to_string(), Size::Small, Cut::Mono, p.ink_second);
    }
    for row in first[1]..=last[1] {
        let name = zone([0, row]);
        let letter = name.strip_suffix('0').filter(|letter| letter.len() == 1).unwrap_or("·");
        let at = spot([first[0], row]) - vec2(PITCH / 2.0 - S8, 0.0);
        paint(ui.painter(), at, Align2::CENTER_CENTER, letter, Size::Small, Cut::Mono, p.ink_second);
    }
}

fn points_of(network: &NetworkForm, pipe: &PipeForm, spot: &dyn Fn(Spot) -> Pos2) -> Option<Vec<Pos2>> {
    let (from, to) = (network.node_of(&pipe.from)?, network.node_of(&pipe.to)?);
    let all = std::iter::once(from.at).chain(pipe.via.iter().copied()).chain([to.at]);
    Some(all.map(spot).collect())
}

/// What is being pulled or moved, dashed up to the place in hand.
fn pulling_ui(ui: &Ui, network: &NetworkForm, local: &BoardLocal, spot: &dyn Fn(Spot) -> Pos2) {
    let p = theme::palette(ui);
    let from = match (&local.pull, &local.moving) {
        (Some((from, via)), _) => network.node_of(from).map(|node| (node.at, via.clone())),
        (_, Some(key)) => network.node_of(key).map(|node| (node.at, Vec::new())),
        _ => None,
    };
    if let Some((from, via)) = from {
        let points: Vec<Pos2> = std::iter::once(from).chain(via).chain([local.at(network)]).map(spot).collect();
        ui.painter().extend(Shape::dashed_line(&points, Stroke::new(FOCUS, p.bronze), S4, S4));
    }
}

fn sign_ui(ui: &Ui, node: &NodeForm, center: Pos2) {
    let p = theme::palette(ui);
    match kind_of(node) {
        Some(kind) => bare_symbol(ui, kind, node.open || !kind.can_be_shut(), center),
        None => {
            paint(ui.painter(), center, Align2::CENTER_CENTER, "?", Size::Body, Cut::Semi, p.red_lead);
        }
    }
    let galley = lines(ui, &node.name, PITCH - S4, 1, Size::Small, Cut::Regular, p.ink);
    let at = pos2(center.x - galley.size().x / 2.0, center.y + S16);
    ui.painter().galley(at, galley, p.ink);
}

fn line_ui(ui: &mut Ui, id: &str, of: &str, name: &str, text: &mut String) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    label_in(ui, READING, name, Size::Small, Cut::Regular, p.ink_second);
    field(ui, &Field::line(Id::new(("network", id, of)), name, READING), text);
}

/// What is said of the node in hand.
fn node_ui(ui: &mut Ui, network: &mut NetworkForm, local: &BoardLocal) {
    let at = local.at(network);
    let Some(node) = network.node_at(at).and_then(|node| network.nodes.get_mut(node)) else { return };
    let key = node.key.clone();
    line_ui(ui, "name", &key, "Name of the node, for people", &mut node.name);
    line_ui(ui, "kind", &key, "Kind of the node, such as valve, pump or tank", &mut node.kind);
    line_ui(ui, "medium", &key, "What is in it, such as sea-water; may stay empty", &mut node.medium);
    let kind = kind_of(node);
    if kind.is_some_and(NodeKind::can_be_shut) {
        ui.add_space(S8);
        for (name, flag) in [("Found open", &mut node.open), ("Fixed: it cannot be turned", &mut node.fixed)] {
            if kit::toggle(ui, *flag, name).clicked() {
                *flag = !*flag;
            }
        }
    }
    if kind == Some(NodeKind::ThreeWay) || !node.ways.is_empty() {
        let mut ways = node.ways.join(", ");
        line_ui(ui, "ways", &key, "Keys of the two neighbours that it can be set to, with a comma", &mut ways);
        node.ways = ways.split(',').map(|way| way.trim_start().to_owned()).filter(|way| !way.is_empty()).collect();
    }
}

/// What must flow and what must not.
fn demands_ui(ui: &mut Ui, network: &mut NetworkForm) {
    let p = theme::palette(ui);
    ui.add_space(S24);
    heading(ui, "What it must do", Size::Body, Cut::Semi);
    let keys: Vec<&str> = network.nodes.iter().map(|node| node.key.as_str()).collect();
    let words = format!("Stops are keys of nodes: {}. An empty demand is left out.", keys.join(", "));
    label_in(ui, READING, &words, Size::Small, Cut::Regular, p.ink_second);
    for (at, demand) in network.demands.iter_mut().enumerate() {
        let of = at.to_string();
        line_ui(ui, "demand", &of, &format!("Demand {}, in a few words", at + 1), &mut demand.name);
        let mut stops = demand.stops.join(", ");
        line_ui(ui, "stops", &of, &format!("Stops of demand {}, with commas", at + 1), &mut stops);
        demand.stops =
            stops.split(',').map(|stop| stop.trim_start().to_owned()).filter(|stop| !stop.is_empty()).collect();
        ui.add_space(S4);
        if kit::toggle(ui, demand.never, &format!("Demand {} must never flow", at + 1)).clicked() {
            demand.never = !demand.never;
        }
    }
}

//! Measures, in points. The 4-point grid, and the few sizes that things have in common.

/// The grid.
pub const S4: f32 = 4.0;
/// Two steps.
pub const S8: f32 = 8.0;
/// Three steps.
pub const S12: f32 = 12.0;
/// Four steps.
pub const S16: f32 = 16.0;
/// Six steps.
pub const S24: f32 = 24.0;
/// Ten steps.
pub const S40: f32 = 40.0;

/// Lines.
pub const LINE: f32 = 1.0;
/// The focus ring.
pub const FOCUS: f32 = 2.0;
/// Corners.
pub const CORNER: u8 = 2;

/// The rail, and folded.
pub const RAIL: f32 = 184.0;
/// The rail with icons only.
pub const RAIL_FOLDED: f32 = 56.0;
/// An item of the rail, a button, a row of options.
pub const ITEM: f32 = 40.0;
/// The bar that marks the current item.
pub const MARK: f32 = 4.0;
/// An icon.
pub const ICON: f32 = 20.0;
/// The page head.
pub const HEAD: f32 = 64.0;
/// The page head in a low window.
pub const HEAD_LOW: f32 = 44.0;
/// The progress of a watch.
pub const PROGRESS: f32 = 2.0;

/// From the sheet's edge to its frame.
pub const FRAME_INSET: f32 = 12.0;
/// A centring tick, half outside and half inside of the frame.
pub const TICK: f32 = 12.0;
/// The sheet as drawn: its width in the drawings, and the most without the rail.
pub const SHEET: f32 = 1016.0;
/// The widest sheet.
pub const SHEET_WIDEST: f32 = 1240.0;
/// The widest column for reading, about 72 characters of body text.
pub const READING: f32 = 560.0;
/// The widest prompt, about 65 characters.
pub const PROMPT: f32 = 720.0;

/// The highest picture with its mount; the widest is as a prompt.
pub const PICTURE_HIGH: f32 = 336.0;

/// What is said beside a drawing with parts, and the rim around one that is marked.
pub const BESIDE: f32 = 264.0;
/// See [`BESIDE`].
pub const RIM: f32 = 2.5;
/// The lowest drawing with parts; in a lower window the sheet scrolls.
pub const DRAWING_LEAST: f32 = 112.0;
/// In a window lower than this the outcome of a point stands in one line.
pub const DRAWING_LOW: f32 = 760.0;
/// What is kept free under a drawing that has nothing beside it.
pub const UNDER: f32 = 96.0;
/// The highest drawing on a card's page and in a remedy.
pub const DRAWING_HIGH: f32 = 320.0;

/// The title block: its wide column.
pub const BLOCK_WIDE: f32 = 304.0;
/// The title block: its narrow column.
pub const BLOCK_NARROW: f32 = 112.0;
/// The title block: a row.
pub const BLOCK_ROW: f32 = 40.0;

/// A key box.
pub const KEY_BOX: f32 = 20.0;
/// Inside a key box, left and right.
pub const KEY_PAD: f32 = 5.0;
/// A number box of a key point.
pub const NUMBER_BOX: f32 = 24.0;
/// A row of key points.
pub const POINT_ROW: f32 = 48.0;
/// A row of a table on a framed sheet.
pub const TABLE_ROW: f32 = 40.0;
/// A trend in a row of the table.
pub const TREND: f32 = 88.0;
/// The table shows trends from this width on.
pub const TREND_FROM: f32 = 880.0;
/// A reliability diagram's side.
pub const DIAGRAM: f32 = 248.0;
/// What stands beside the plan's chart.
pub const PLAN_ASIDE: f32 = 280.0;
/// The plan's chart, at least so high.
pub const CHART_LEAST: f32 = 248.0;
/// The plan's chart where there is least room.
pub const CHART_TINY: f32 = 228.0;
/// The plan's chart, at most so high.
pub const CHART_HIGH: f32 = 440.0;
/// The list of a deck's cards while it is written.
pub const WRITE_LIST: f32 = 216.0;
/// What stands beside the card that is written.
pub const WRITE_SIDE: f32 = 288.0;
/// See [`WRITE_SIDE`]; in a folded room.
pub const WRITE_SIDE_FOLDED: f32 = 240.0;
/// A row of the library.
pub const LIST_ROW: f32 = 32.0;
/// An option of the first run.
pub const OPTION_ROW: f32 = 36.0;

/// The column of facts.
pub const FACTS: f32 = 264.0;
/// A row of a run, and of the column of facts.
pub const RUN_ROW: f32 = 32.0;
/// A cell of the strip of facts.
pub const FACT_CELL: f32 = 48.0;
/// The least width of such a cell.
pub const FACT_CELL_WIDTH: f32 = 168.0;
/// A pane lower than this is none: the whole sheet scrolls.
pub const PANE_LEAST: f32 = 200.0;

/// A schematic is no lower than this.
pub const BOARD_LEAST: f32 = 168.0;
/// Least height of a board in a tiny window, where it is as high as what is seen of the sheet.
pub const BOARD_TINY: f32 = 104.0;
/// A row of what a line-up must do.
pub const DEMAND_ROW: f32 = 24.0;
/// Height of a demand in a low window.
pub const DEMAND_ROW_LOW: f32 = 21.0;
/// What stands under a schematic is no lower than this: the legend and the outcome have room.
pub const FOOT_LEAST: f32 = 125.0;
/// And no higher; further rows scroll.
pub const FOOT_MOST: f32 = 172.0;
/// What a line-up must do, beside the title block.
pub const FOOT_STRIP: f32 = 512.0;

/// The column of what is given beside a worksheet, in a folded room.
pub const GIVEN_FOLDED: f32 = 264.0;
/// The manual beside the worksheet on its own page.
pub const MANUAL: f32 = 352.0;
/// A row of what is given.
pub const GIVEN_ROW: f32 = 28.0;
/// The units behind the results of a worksheet, at least.
pub const UNITS: f32 = 68.0;
/// The results of a worksheet, at least.
pub const RESULTS: f32 = 88.0;
/// The field of a working's answer.
pub const ANSWER: f32 = 264.0;
/// The row of a working's answer.
pub const ANSWER_ROW: f32 = 56.0;

/// Below this width of the window the rail and the title block are folded.
pub const FOLD_WIDTH: f32 = 1100.0;
/// Below this height of the window the title block is folded.
pub const FOLD_HEIGHT: f32 = 720.0;
/// Below this width or that height margins shrink and the title block ends the text.
pub const TINY_WIDTH: f32 = 760.0;
/// See [`TINY_WIDTH`].
pub const TINY_HEIGHT: f32 = 520.0;
/// Below this height every line counts.
pub const VERY_LOW: f32 = 420.0;

//! What speaks against a single point: denied predicates, dispensed things, opposites, other numbers, turned order;
//! and what only looks like it.

use crate::marking::kinds::point;
use crate::marking::text::{CONTRADICTED, NEITHER, SAID, check};

#[test]
fn a_denied_predicate_denies_what_it_is_said_of() {
    check(vec![
        (
            point("The pump driven by the engine now supplies the bearings", &["attached pump"], &[], false),
            &[
                ("the attached pump does not supply the bearings", CONTRADICTED),
                ("the attached pump never supplies the bearings", CONTRADICTED),
                ("the attached pump is not used", CONTRADICTED),
                ("the electric pump is not needed, the attached pump supplies", SAID),
                ("the attached pump, not the electric one", SAID),
                ("now the attached pump supplies the bearings", SAID),
                ("the attached pump supplies and the electric pump does not run any more", SAID),
            ],
        ),
        (
            point("The strainer of the fuel line is choked", &["fuel strainer"], &[], false),
            &[
                ("the fuel strainer is not choked", CONTRADICTED),
                ("the fuel strainer has no influence on it", CONTRADICTED),
                ("the fuel strainer has nothing to do with it", CONTRADICTED),
                ("fuel strainer, not the air filter", SAID),
                ("the fuel strainer, which nobody has cleaned", SAID),
            ],
        ),
        (
            point("Dry the windings before the test", &["dry the windings"], &[], false),
            &[
                ("there is no need to dry the windings", CONTRADICTED),
                ("drying the windings is not necessary", CONTRADICTED),
                ("windings need not be dried", CONTRADICTED),
                ("do not bother with drying the windings", CONTRADICTED),
                ("do not forget to dry the windings", SAID),
            ],
        ),
        (
            point("Tell the bridge", &["inform the bridge"], &[], false),
            &[
                ("never mind the bridge", CONTRADICTED),
                ("the bridge should not be disturbed", CONTRADICTED),
                ("do not start anything without telling the bridge", SAID),
            ],
        ),
    ]);
}

#[test]
fn an_opposite_of_the_points_own_sentence_contradicts() {
    check(vec![
        (
            point("The exhaust temperature rises", &["exhaust temperature"], &[], false),
            &[
                ("the exhaust temperature drops", CONTRADICTED),
                ("exhaust temperature goes up", SAID),
                ("exhaust temperature gets lower", CONTRADICTED),
                ("exhaust temperature rises while the scavenge pressure drops", SAID),
            ],
        ),
        (
            point("Open the by-pass valve of the cooler", &["cooler by-pass"], &[], false),
            &[
                ("shut the cooler by-pass", CONTRADICTED),
                ("open the cooler by-pass", SAID),
                ("cooler bypass opened, then the inlet closed", SAID),
            ],
        ),
        (
            point("Stop the fans and shut all openings", &["close dampers"], &[], true),
            &[
                ("keep the fans running", CONTRADICTED),
                ("leave the fans on", CONTRADICTED),
                ("fans stopped and all openings shut", SAID),
            ],
        ),
        (
            point("Slow the engine down", &["reduce speed"], &[], true),
            &[
                ("keep the speed", CONTRADICTED),
                ("increase speed", CONTRADICTED),
                ("reduce speed", SAID),
                ("at full ahead the noise is normal, reduce speed now", SAID),
            ],
        ),
        (
            point("The breaker trips and its motor stops", &["breaker of the motor"], &[], false),
            &[("the breaker trips and the motor stops", SAID), ("the motor keeps running", CONTRADICTED)],
        ),
    ]);
}

#[test]
fn another_number_of_the_same_kind_contradicts() {
    check(vec![
        (
            point("The emergency generator is on load within 45 seconds", &["emergency generator on load"], &[], true),
            &[
                ("emergency generator on load within 60 s", CONTRADICTED),
                ("emergency generator on load within 45 s", SAID),
                ("emergency generator on load in 30 s", SAID),
                ("emergency generator on load, it has 440 V", SAID),
                ("emergency generator number 2 on load", SAID),
            ],
        ),
        (
            point("Wait 30 minutes before the test", &["wait 30 minutes"], &[], false),
            &[
                ("wait half an hour", SAID),
                ("wait half an hour before the test", SAID),
                ("wait 10 minutes before the test", CONTRADICTED),
                ("the tank is 30 m long", NEITHER),
            ],
        ),
        (
            point("Oil in the water is not more than 15 ppm", &["15 ppm"], &[], true),
            &[
                ("max 15 ppm", SAID),
                ("under 15 ppm", SAID),
                ("oil in the water not more than 50 ppm", CONTRADICTED),
                ("two sets at least, oil 15 ppm at most", SAID),
            ],
        ),
    ]);
}

#[test]
fn the_other_order_contradicts() {
    check(vec![
        (
            point("Open the drain before the steam", &["drain before steam", "drain first"], &[], true),
            &[
                ("open the drain before the steam", SAID),
                ("steam before drain", CONTRADICTED),
                ("first steam then drain", CONTRADICTED),
                ("first the drain, then the steam", SAID),
                ("steam first and the drain afterwards", CONTRADICTED),
                ("open the steam, then the drain", CONTRADICTED),
                ("never open the steam before the drain", SAID),
                ("steam only after the drain", SAID),
            ],
        ),
        (
            point("Walk round the engine room before taking over the watch", &["walk round first"], &[], false),
            &[
                ("take over first, walk round afterwards", CONTRADICTED),
                ("walk round first, then take over", SAID),
                ("take over the watch and after that walk round", CONTRADICTED),
                ("I walk round the engine room and then take over", SAID),
                ("I do not take over before I have walked round the engine room", SAID),
            ],
        ),
        (
            point("Test for gas, and ventilate before anybody enters", &["ventilate before entry"], &[], true),
            &[
                ("ventilate before anybody enters", SAID),
                ("enter first and ventilate afterwards", CONTRADICTED),
                ("nobody enters before it is ventilated", SAID),
            ],
        ),
    ]);
}

#[test]
fn what_forbids_without_a_not_does_not_contradict() {
    check(vec![
        (
            point("Do not pump feed water in", &["no feed water", "do not feed cold water"], &[], true),
            &[
                ("leave the feed water shut", SAID),
                ("don't feed, let it cool", SAID),
                ("pump feed water in", CONTRADICTED),
            ],
        ),
        (
            point("Steer from the steering flat", &["local steering"], &[], false),
            &[("if no result local steering from the flat", SAID)],
        ),
    ]);
}

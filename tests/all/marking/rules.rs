//! What the words of an answer claim: prohibitions, rejected claims, orders, examples behind a denial, and the kinds of
//! fuel and water. Answers in the English of a second language, some with the right words in the wrong sense. Written for
//! this test; none comes from a published source.

use crate::marking::kinds::point;
use crate::marking::text::{CONTRADICTED, Case, NEITHER, NOT_CONTRADICTED, NOT_SAID, SAID, check};

#[test]
fn what_forbids_the_rejected_thing_does_not_contradict() {
    let cases: Vec<Case> = vec![
        (
            point(
                "Bilge water goes ashore or through the separator",
                &["not overboard", "never overboard", "discharge ashore"],
                &["discharge to sea", "pump it overboard"],
                true,
            ),
            &[
                ("Discharge to sea is prohibited", NOT_CONTRADICTED),
                ("Discharge to sea is banned", NOT_CONTRADICTED),
                ("Discharge to sea is not permitted", NOT_CONTRADICTED),
                ("Discharge to sea is not allowed", NOT_CONTRADICTED),
                ("Discharge to sea is forbidden", NOT_CONTRADICTED),
                ("Discharge to sea is to be avoided", NOT_CONTRADICTED),
                ("avoid discharge to sea", NOT_CONTRADICTED),
                ("discharge to sea must be avoided", NOT_CONTRADICTED),
                ("it must not be discharged to sea", NOT_CONTRADICTED),
                ("never pump it to sea", NOT_CONTRADICTED),
                ("never discharge to sea", NOT_CONTRADICTED),
                ("You must not pump it overboard", SAID),
                ("do not pump it overboard", SAID),
                ("I never pump overboard", SAID),
                ("it may not go overboard", SAID),
                ("pumping it overboard is forbidden", SAID),
                ("pumping overboard is not allowed", SAID),
                ("neither discharge to sea nor into the dock", NOT_CONTRADICTED),
                ("it is neither pumped ashore into the river nor discharged to sea", NOT_CONTRADICTED),
                ("I neither burn it nor pump it overboard", NOT_CONTRADICTED),
                ("refrain from discharge to sea", NOT_CONTRADICTED),
                ("discharge to sea is illegal", NOT_CONTRADICTED),
                ("I discharge to sea", CONTRADICTED),
                ("discharge to sea", CONTRADICTED),
                ("pump it overboard at night", CONTRADICTED),
                ("discharge to sea is allowed", CONTRADICTED),
                ("discharge to sea is permitted", CONTRADICTED),
                ("we pump it overboard", CONTRADICTED),
                ("discharge to sea is not prohibited", CONTRADICTED),
                ("I would pump it overboard when nobody looks", CONTRADICTED),
                ("discharge to sea is the best way", CONTRADICTED),
                ("no discharge to sea", NOT_CONTRADICTED),
                ("without discharge to sea", NOT_CONTRADICTED),
                ("stop the discharge to sea", NOT_CONTRADICTED),
                ("discharge to sea not possible", NOT_CONTRADICTED),
                ("there must be no discharge to sea", NOT_CONTRADICTED),
                ("we cannot discharge to sea here", NOT_CONTRADICTED),
                ("it shall on no account be discharged to sea", NOT_CONTRADICTED),
                ("under no circumstances discharge to sea", NOT_CONTRADICTED),
                ("discharging to sea is against the law", NOT_CONTRADICTED),
                ("nobody may pump it overboard", SAID),
            ],
        ),
        (
            point(
                "Do not open the crankcase",
                &["keep the doors shut", "stay away from the doors"],
                &["open the crankcase at once", "open the doors"],
                true,
            ),
            &[
                ("opening the crankcase is forbidden", SAID),
                ("opening of the crankcase is prohibited", SAID),
                ("avoid opening the crankcase", SAID),
                ("the crankcase must not be opened", SAID),
                ("nobody opens the crankcase", SAID),
                ("it is not allowed to open the crankcase", SAID),
                ("open the crankcase at once", CONTRADICTED),
                ("open the doors carefully", CONTRADICTED),
                ("it is dangerous to open the crankcase", NOT_CONTRADICTED),
                ("you are not permitted to open the crankcase", SAID),
                ("I refuse to open the crankcase", NOT_CONTRADICTED),
                ("I neither stop at once nor open the crankcase", SAID),
            ],
        ),
        (
            point(
                "Oily water is kept on board or given ashore",
                &["never over the side", "not into the sea"],
                &["into the sea", "over the side"],
                true,
            ),
            &[
                ("oily water over the side is strictly prohibited", SAID),
                ("it is absolutely forbidden to let it into the sea", SAID),
                ("letting it over the side is not allowed by MARPOL", SAID),
                ("no oily water may go into the sea", SAID),
                ("you are not allowed to put it over the side", SAID),
                ("it must never go over the side", SAID),
                ("throwing it over the side is a crime, forbidden everywhere", NOT_CONTRADICTED),
                ("avoid that it comes into the sea", SAID),
                ("into the sea it must not go", SAID),
                ("nobody is permitted to pump it over the side", SAID),
                ("we let it run over the side", CONTRADICTED),
                ("just into the sea with it", CONTRADICTED),
                ("pumping into the sea is permitted at night", CONTRADICTED),
                ("over the side is allowed after 12 miles", CONTRADICTED),
                ("it shall not be let into the sea", SAID),
                ("dumping into the sea is banned", SAID),
                ("neither into the sea nor into the bilge", SAID),
                ("we neither burn it nor put it over the side", SAID),
                ("it is against the law to pump it over the side", SAID),
                ("don't ever throw it over the side", SAID),
            ],
        ),
        (
            point(
                "Naked flames are kept away from the battery room",
                &["no naked flame", "no smoking"],
                &["smoking is fine", "bring a naked flame"],
                true,
            ),
            &[
                ("smoking is prohibited in there", SAID),
                ("naked flames are forbidden", SAID),
                ("it is not permitted to smoke", SAID),
                ("avoid naked flames", SAID),
                ("smoking is allowed", NOT_SAID),
                ("naked flame is permitted", NOT_SAID),
                ("never bring a naked flame", SAID),
                ("nobody may smoke there", SAID),
                ("smoking must be avoided", SAID),
                ("neither smoking nor naked flame", SAID),
            ],
        ),
        (
            point(
                "Nobody stands under the load",
                &["keep clear of the load", "not under the load"],
                &["stand under the load"],
                true,
            ),
            &[
                ("standing under the load is forbidden", SAID),
                ("it is forbidden to stand under the load", SAID),
                ("do not stand under the load", SAID),
                ("you stand under the load to guide it", CONTRADICTED),
                ("never walk under the load", SAID),
                ("standing under the load is prohibited", SAID),
                ("we avoid to stand under the load", SAID),
                ("it is not permitted to be under the load", SAID),
                ("people may stand under the load", CONTRADICTED),
            ],
        ),
    ];
    check(cases);
}

#[test]
fn a_rejected_claim_contradicts_only_where_its_words_hang_together() {
    let cases: Vec<Case> = vec![
        (
            point(
                "The scrubbing water must not be acid when it leaves",
                &["wash water is neutralised", "ph above 6.5"],
                &["sea water is acid"],
                true,
            ),
            &[
                ("the sea water alkalinity neutralises the acid", NOT_CONTRADICTED),
                ("sea water is alkaline and neutralises the acid from the gas", NOT_CONTRADICTED),
                ("the alkalinity of the sea water takes the acid", NOT_CONTRADICTED),
                ("acid of the gas is washed out by sea water", NOT_CONTRADICTED),
                ("the sea water is acid", CONTRADICTED),
                ("sea water is acidic", CONTRADICTED),
                ("because sea water is acid", CONTRADICTED),
                ("sea water is an acid", CONTRADICTED),
                ("sea water is not acid", NOT_CONTRADICTED),
                ("acid is taken up by the sea water", NOT_CONTRADICTED),
                ("the sea water becomes acid", NOT_SAID),
                ("sea water, which takes up acid", NOT_CONTRADICTED),
                ("sea water flows in and the acid goes out", NOT_CONTRADICTED),
            ],
        ),
        (
            point(
                "Steam heats the fuel",
                &["steam coil", "heated by steam"],
                &["fuel heats the steam", "water is hotter than steam"],
                true,
            ),
            &[
                ("the steam heats the fuel", SAID),
                ("fuel is heated by steam", SAID),
                ("the fuel heats the steam", CONTRADICTED),
                ("fuel takes heat from steam", NOT_CONTRADICTED),
                ("hot water from the steam trap heats the fuel", NOT_CONTRADICTED),
                ("water is hotter than steam", CONTRADICTED),
                ("steam is hotter than water", NOT_CONTRADICTED),
            ],
        ),
        (
            point(
                "Salt comes from sea water leaking in",
                &["sea water leak", "cooler tube leaks"],
                &["fresh water is salty", "the cooler makes salt"],
                true,
            ),
            &[
                ("fresh water cools the salty condenser", NOT_CONTRADICTED),
                ("fresh water is salty", CONTRADICTED),
                ("the fresh water washes the salty side", NOT_CONTRADICTED),
                ("the salty sea water leaks into the fresh water", NOT_CONTRADICTED),
                ("fresh water was salty from the start", CONTRADICTED),
                ("the cooler makes salt", CONTRADICTED),
                ("the cooler leaks and makes the water salt", NOT_CONTRADICTED),
            ],
        ),
        (
            point(
                "Hydrogen collects at the top",
                &["hydrogen rises", "gas at the top"],
                &["hydrogen is heavy", "oxygen collects at the top"],
                true,
            ),
            &[
                ("hydrogen is heavy", CONTRADICTED),
                ("hydrogen is very heavy", CONTRADICTED),
                ("hydrogen is not heavy", NOT_CONTRADICTED),
                ("the heavy cells give off hydrogen", NOT_CONTRADICTED),
                ("hydrogen is light and the battery is heavy", NOT_CONTRADICTED),
                ("oxygen collects at the top", CONTRADICTED),
                ("hydrogen and not oxygen collects at the top", NOT_CONTRADICTED),
            ],
        ),
        (
            point(
                "The valve is tight when cold",
                &["tight when cold", "no leak"],
                &["the valve leaks", "valve is stuck"],
                true,
            ),
            &[
                ("the valve leaks", CONTRADICTED),
                ("the valve does not leak", NOT_CONTRADICTED),
                ("the valve never leaks", NOT_CONTRADICTED),
                ("valve is stuck", CONTRADICTED),
                ("the valve is hardly ever stuck", NOT_CONTRADICTED),
                ("the stuck pump makes the valve work", NOT_CONTRADICTED),
            ],
        ),
        (
            point(
                "Use the marked eyebolts",
                &["marked eyebolts", "lifting points"],
                &["lift by the shaft", "shaft is a lifting point"],
                true,
            ),
            &[
                ("lift by the shaft", CONTRADICTED),
                ("do not lift by the shaft", NOT_CONTRADICTED),
                ("lift it by the eyebolts, never the shaft", NOT_CONTRADICTED),
                ("the eyebolts beside the shaft are the lifting points", NOT_CONTRADICTED),
                ("shaft is a lifting point", CONTRADICTED),
            ],
        ),
    ];
    check(cases);
}

#[test]
fn an_order_is_matched_by_order_and_the_other_one_contradicts() {
    let cases: Vec<Case> = vec![
        (
            point(
                "The circuit is proved dead, then it is earthed",
                &["test dead then earth", "prove dead before earthing"],
                &["earth before proving dead", "earth first then prove dead"],
                true,
            ),
            &[
                ("test dead, then earth", SAID),
                ("I test dead first, then I apply the earth", SAID),
                ("I apply the earth, then I prove it dead", CONTRADICTED),
                ("earth, then prove dead", CONTRADICTED),
                ("first earth, then test dead", CONTRADICTED),
                ("first test dead, then earth", SAID),
                ("earth it after proving dead", SAID),
                ("earth before testing dead", CONTRADICTED),
                ("test dead before you earth", SAID),
                ("after it is earthed I prove it dead", CONTRADICTED),
                ("after I proved it dead I earth it", SAID),
                ("once proved dead, earth it", SAID),
                ("once it is earthed, prove it dead", CONTRADICTED),
                ("earth it once it is proved dead", SAID),
                ("do not earth until it is proved dead", SAID),
                ("do not earth before it is proved dead", SAID),
                ("never earth it before it is tested dead", SAID),
                ("prove dead only after the earth is on", CONTRADICTED),
                ("earth first and prove dead later", CONTRADICTED),
                ("prove it dead first and earth later", SAID),
            ],
        ),
        (
            point(
                "Open the next tank before the full one is shut",
                &["open next tank then close full tank", "next tank opened first"],
                &["shut the full tank first", "close full tank then open next"],
                true,
            ),
            &[
                ("open the next tank, then shut the full one", SAID),
                ("shut the full tank first, then open the next", CONTRADICTED),
                ("first open the next tank, then close the full tank", SAID),
                ("close the full tank before opening the next", CONTRADICTED),
                ("open the next tank before I close the full tank", SAID),
                ("after opening the next tank close the full one", SAID),
                ("after closing the full tank open the next one", CONTRADICTED),
                ("close the full tank and then open the next tank", CONTRADICTED),
                ("never close the full tank before the next is open", SAID),
                ("the full tank is shut only after the next is open", SAID),
                ("once the full tank is shut I open the next", CONTRADICTED),
                ("once the next tank is open I shut the full one", SAID),
            ],
        ),
        (
            point(
                "Ventilate before anybody enters",
                &["ventilate before entry", "aired before entry"],
                &["enter before ventilating"],
                true,
            ),
            &[
                ("ventilate, then enter", SAID),
                ("enter, then ventilate", CONTRADICTED),
                ("nobody enters until it is ventilated", SAID),
                ("I enter once it is ventilated", SAID),
                ("I ventilate once somebody has entered", CONTRADICTED),
                ("ventilate after entry", CONTRADICTED),
                ("wait until it is ventilated, then enter", SAID),
                ("go in first and ventilate afterwards", CONTRADICTED),
                ("first ventilation, then entry", SAID),
            ],
        ),
        (
            point(
                "The whole system is flushed before the boundary",
                &["fully flushed", "flushed before entry", "flush the system", "completed before entry"],
                &["begin at the boundary"],
                true,
            ),
            &[
                ("we flush after we have entered", CONTRADICTED),
                ("we flush the system after entry", CONTRADICTED),
                ("flush the system before we enter", SAID),
                ("the system is fully flushed before the line", SAID),
                ("we enter and then flush the system", CONTRADICTED),
                ("after we have entered the area the system is flushed", CONTRADICTED),
                ("flush the system in good time", SAID),
                ("first enter the area, then flush", CONTRADICTED),
            ],
        ),
        (
            point(
                "Close the inlet before you open the drain",
                &["inlet shut before drain open", "first close the inlet"],
                &["open the drain first"],
                true,
            ),
            &[
                ("close the inlet, then open the drain", SAID),
                ("open the drain, then close the inlet", CONTRADICTED),
                ("after closing the inlet I open the drain", SAID),
                ("after opening the drain I close the inlet", CONTRADICTED),
                ("the inlet is closed before the drain is opened", SAID),
                ("the drain is opened before the inlet is closed", CONTRADICTED),
                ("first the inlet is closed and then I open the drain", SAID),
                ("first open the drain and then close the inlet", CONTRADICTED),
                ("once the inlet is closed open the drain", SAID),
                ("do not open the drain until the inlet is closed", SAID),
                ("don't open the drain before you closed the inlet", SAID),
                ("the drain must not be opened before the inlet is shut", SAID),
                ("open the drain only after the inlet is shut", SAID),
                ("open the drain and afterwards close the inlet", CONTRADICTED),
                ("close inlet first, drain open later", SAID),
                ("drain open first, inlet close later", CONTRADICTED),
                ("before opening the drain I shut the inlet", SAID),
                ("before shutting the inlet I open the drain", CONTRADICTED),
                ("when the inlet is closed I open the drain", SAID),
                ("inlet closed, after that drain opened", SAID),
            ],
        ),
        (
            point(
                "Tell the bridge before you stop the engine",
                &["inform bridge first", "bridge told before stopping"],
                &["stop first and tell later"],
                true,
            ),
            &[
                ("I call the bridge, then stop the engine", SAID),
                ("I stop the engine, then I call the bridge", CONTRADICTED),
                ("stop the engine and after that inform the bridge", CONTRADICTED),
                ("never stop the engine before the bridge knows", NOT_CONTRADICTED),
                ("I inform the bridge first and stop after", SAID),
                ("after I told the bridge I stop the engine", SAID),
                ("after the engine is stopped I tell the bridge", CONTRADICTED),
                ("first stop, then tell the bridge", CONTRADICTED),
                ("the bridge is told before stopping", SAID),
                ("once the bridge is informed the engine is stopped", SAID),
            ],
        ),
        (
            point(
                "The oil is warmed before the pump starts",
                &["warm the oil", "oil warmed first"],
                &["start the pump cold"],
                true,
            ),
            &[
                ("warm the oil and then start the pump", SAID),
                ("start the pump and then warm the oil", CONTRADICTED),
                ("warm the oil after the pump has started", CONTRADICTED),
                ("warm the oil before starting the pump", SAID),
                ("the pump starts once the oil is warm", SAID),
                ("the oil gets warm once the pump is started", NOT_SAID),
                ("do not start the pump until the oil is warm", SAID),
                ("warm the oil, later start the pump", SAID),
                ("after the pump is started warm the oil", CONTRADICTED),
                ("first the pump, then warm the oil", CONTRADICTED),
            ],
        ),
    ];
    check(cases);
}

#[test]
fn a_denial_reaches_what_it_gives_as_examples() {
    let cases: Vec<Case> = vec![
        (
            point(
                "No stored energy is assumed",
                &["no stored energy", "no starting air", "receivers empty"],
                &[],
                true,
            ),
            &[
                ("no stored energy such as starting air or batteries", SAID),
                ("there is no stored energy, such as air or batteries", SAID),
                ("no stored energy like starting air", SAID),
                ("no stored energy, for example compressed air", SAID),
                ("no energy is stored, e.g. air bottles", SAID),
                ("stored energy such as air and batteries is available", NOT_SAID),
                ("there is starting air in the receivers", NOT_SAID),
            ],
        ),
        (
            point("No naked lights are allowed", &["no naked lights", "no smoking"], &[], true),
            &[
                ("no naked lights such as matches or lighters", SAID),
                ("no ignition sources like cigarettes or naked lights", SAID),
                ("naked lights such as lamps are allowed", NOT_SAID),
                ("naked lights are forbidden", SAID),
                ("naked lights are prohibited", SAID),
            ],
        ),
        (
            point("Keep away all sources of ignition", &["no sparks", "no smoking"], &[], true),
            &[("no sparks such as from grinding", SAID), ("no flames, no sparks and no smoking", SAID)],
        ),
        (
            point(
                "No loose gear is left in the crankcase",
                &["nothing left inside", "no tools left"],
                &["tools stay inside"],
                true,
            ),
            &[
                ("no loose things such as rags or spanners are left inside", SAID),
                ("nothing such as tools or rags is left inside", SAID),
                ("no tools, rags or bolts left", SAID),
                ("there must be no tools like spanners left inside", SAID),
                ("rags and tools are left inside", NOT_SAID),
                ("we leave the tools such as spanners inside", NOT_SAID),
            ],
        ),
        (
            point("No machinery is running", &["no engine running", "nothing running"], &["engine running"], true),
            &[
                ("no machinery such as pumps, engine or boilers is running", SAID),
                ("nothing runs, for example no pumps and no generators", SAID),
                ("no engine, pump or boiler is running", SAID),
                ("neither the engine nor the pumps are running", SAID),
                ("engine running, pumps stopped", NOT_SAID),
                ("machinery such as pumps is running", NOT_SAID),
            ],
        ),
        (
            point("The space holds no oil, gas or chemicals", &["no oil or gas", "gas free"], &["gas inside"], true),
            &[
                ("no substances such as oil or gas are inside", NOT_CONTRADICTED),
                ("no gas, like methane or petrol vapour, is in it", NOT_CONTRADICTED),
                ("there is gas such as methane inside", NOT_SAID),
                ("it is free of gas", NOT_CONTRADICTED),
            ],
        ),
    ];
    check(cases);
}

#[test]
fn other_fuels_and_waters_do_not_make_the_point() {
    let cases: Vec<Case> = vec![
        (
            point("The boiler is changed to gas oil", &["gas oil", "MGO"], &[], true),
            &[
                ("HFO", NEITHER),
                ("heavy fuel oil", NEITHER),
                ("lubricating oil", NEITHER),
                ("I do not know", NEITHER),
                ("gas oil", SAID),
                ("MGO", SAID),
                ("marine gas oil", SAID),
                ("diesel oil", NOT_CONTRADICTED),
                ("fuel oil", NOT_SAID),
                ("heavy fuel", NOT_SAID),
                ("we do it", NEITHER),
                ("do it on HFO", NOT_SAID),
            ],
        ),
        (
            point("It is washed with fresh water", &["fresh water"], &[], true),
            &[("sea water", NOT_SAID), ("fresh water", SAID), ("FW", SAID), ("salt water", NOT_SAID)],
        ),
        (
            point("It burns diesel oil", &["diesel oil", "MDO"], &[], true),
            &[("DO", SAID), ("D.O.", SAID), ("we do", NEITHER), ("do this", NEITHER), ("heavy oil", NOT_SAID)],
        ),
    ];
    check(cases);
}

//! One word at a time: lower case, one spelling for British and American forms, stems.

use std::cell::RefCell;
use std::collections::HashMap;

use rust_stemmers::{Algorithm, Stemmer};
use unicode_normalization::UnicodeNormalization;

thread_local! {
    static STEMMER: Stemmer = Stemmer::create(Algorithm::English);
    static STEMS: RefCell<HashMap<String, String>> = RefCell::new(HashMap::new());
}

/// Stems that are kept; beyond it the store is emptied.
const KEPT: usize = 20_000;

/// Lower case, without accents.
pub(super) fn plain(word: &str) -> String {
    if word.is_ascii() {
        return word.to_ascii_lowercase();
    }
    let superscripts = |c: char| crate::domain::quantity::plain_superscript(c).unwrap_or(c);
    let marks = |c: &char| !('\u{300}'..='\u{36f}').contains(c);
    word.chars().map(superscripts).nfkd().filter(marks).flat_map(char::to_lowercase).collect()
}

/// The stem under which a word is compared.
pub(super) fn stem(word: &str) -> String {
    if let Some(known) = STEMS.with_borrow(|kept| kept.get(word).cloned()) {
        return known;
    }
    let british = british(word);
    let root = irregular(&british).map_or_else(|| STEMMER.with(|s| s.stem(&british).into_owned()), str::to_owned);
    STEMS.with_borrow_mut(|kept| {
        if kept.len() >= KEPT {
            kept.clear();
        }
        kept.insert(word.to_owned(), root.clone());
    });
    root
}

/// Endings that differ between British and American spelling.
fn british(word: &str) -> String {
    for (american, british) in SPELLINGS {
        if word == *american {
            return (*british).to_owned();
        }
    }
    if word.len() > 6 {
        for (from, to) in [
            ("ization", "isation"),
            ("izing", "ising"),
            ("ized", "ised"),
            ("izer", "iser"),
            ("ize", "ise"),
            ("izes", "ises"),
            ("yze", "yse"),
            ("yzed", "ysed"),
        ] {
            if let Some(head) = word.strip_suffix(from) {
                return format!("{head}{to}");
            }
        }
    }
    word.to_owned()
}

const SPELLINGS: &[(&str, &str)] = &[
    ("aluminum", "aluminium"),
    ("behavior", "behaviour"),
    ("center", "centre"),
    ("centers", "centres"),
    ("color", "colour"),
    ("colored", "coloured"),
    ("disk", "disc"),
    ("disks", "discs"),
    ("draft", "draught"),
    ("fiber", "fibre"),
    ("gage", "gauge"),
    ("gages", "gauges"),
    ("gray", "grey"),
    ("harbor", "harbour"),
    ("labor", "labour"),
    ("liter", "litre"),
    ("liters", "litres"),
    ("maneuver", "manoeuvre"),
    ("maneuvering", "manoeuvring"),
    ("meter", "metre"),
    ("meters", "metres"),
    ("mold", "mould"),
    ("neighbor", "neighbour"),
    ("odor", "odour"),
    ("program", "programme"),
    ("sulfur", "sulphur"),
    ("sulfuric", "sulphuric"),
    ("vapor", "vapour"),
    ("vapors", "vapours"),
    ("tire", "tyre"),
    ("fueled", "fuelled"),
    ("leveled", "levelled"),
    ("signaled", "signalled"),
    ("channeled", "channelled"),
    ("canceled", "cancelled"),
    ("traveled", "travelled"),
];

/// Forms that the stemmer keeps apart, with the stem they share.
fn irregular(word: &str) -> Option<&'static str> {
    IRREGULAR.iter().find(|(forms, _)| forms.contains(&word)).map(|(_, stem)| *stem)
}

const IRREGULAR: &[(&[&str], &str)] = &[
    (&["opening", "openings"], "opening"),
    (&["cooling"], "cooling"),
    (&["certificate", "certificates", "certified", "certify", "certification"], "certif"),
    (&["heating"], "heating"),
    (&["corrosion", "corrosive", "corrode", "corrodes", "corroded", "corroding"], "corrod"),
    (&["erosion", "erosive", "erode", "eroded", "eroding"], "erod"),
    (&["explosion", "explosions", "explosive", "explode", "explodes", "exploded"], "explod"),
    (&["expansion", "expand", "expands", "expanded", "expanding"], "expand"),
    (&["compression", "compress", "compressed", "compresses"], "compress"),
    (&["reduction", "reduce", "reduces", "reduced", "reducing"], "reduc"),
    (&["failure", "failures", "fail", "fails", "failed", "failing"], "fail"),
    (&["closure", "close", "closes", "closed", "closing"], "close"),
    (&["leak", "leaks", "leaking", "leaky", "leakage", "leakages", "leaked", "leakes"], "leak"),
    (&["blockage", "block", "blocks", "blocked", "blocking"], "block"),
    (&["broke", "break", "breaks", "broken", "breaking", "breakage"], "break"),
    (&["ran", "run", "runs", "running"], "run"),
    (&["shut", "shuts", "shutting"], "shut"),
    (&["found", "find", "finds", "finding"], "find"),
    (&["wore", "worn", "wear", "wears", "wearing"], "wear"),
    (&["blown", "blew", "blow", "blows", "blowing"], "blow"),
    (&["fell", "fall", "falls", "fallen", "falling"], "fall"),
    (&["rose", "rise", "rises", "risen", "rising"], "rise"),
    (&["kept", "keep", "keeps", "keeping"], "keep"),
    (&["left", "leave", "leaves", "leaving"], "leave"),
    (&["lost", "lose", "loses", "losing", "loss", "losses"], "lose"),
    (&["went", "go", "goes", "going", "gone"], "go"),
    (&["came", "come", "comes", "coming"], "come"),
    (&["took", "take", "takes", "taken", "taking"], "take"),
    (&["gave", "give", "gives", "given", "giving"], "give"),
    (&["brought", "bring", "brings", "bringing"], "bring"),
    (&["made", "make", "makes", "making"], "make"),
    (&["fed", "feed", "feeds", "feeding"], "feed"),
    (&["drew", "drawn", "draw", "draws", "drawing"], "draw"),
    (&["wrote", "written", "write", "writes", "writing"], "write"),
    (&["told", "tell", "tells", "telling"], "tell"),
    (&["stuck", "stick", "sticks", "sticking"], "stick"),
    (&["hotter", "hottest", "hot"], "hot"),
    (&["colder", "coldest", "cold"], "cold"),
    (&["bigger", "biggest", "big"], "big"),
    (&["larger", "largest", "large"], "larg"),
    (&["smaller", "smallest", "small"], "small"),
    (&["higher", "highest", "high"], "high"),
    (&["lower", "lowest", "low"], "low"),
    (&["slower", "slowest", "slow", "slowly"], "slow"),
    (&["faster", "fastest", "fast"], "fast"),
    (&["quicker", "quickest", "quick", "quickly"], "quick"),
    (&["thinner", "thin"], "thin"),
    (&["thicker", "thick"], "thick"),
    (&["wider", "widest", "wide", "width"], "wide"),
    (&["length", "lengths"], "length"),
    (&["maintenance", "maintain", "maintains", "maintained"], "maintain"),
    (&["departure", "depart", "departs", "departing"], "depart"),
    (&["arrival", "arrive", "arrives", "arrived", "arriving"], "arriv"),
    (&["entry", "entries", "entrance"], "entri"),
    (&["operate", "operation", "operates", "operating", "operated", "operational"], "oper"),
    (&["men", "man"], "man"),
    (&["feet", "foot"], "foot"),
    (&["bearing", "bearings"], "bearing"),
    (&["lighting", "light", "lights", "lit"], "light"),
    (&["separator", "separators"], "separator"),
    (&["generator", "generators"], "generator"),
    (&["indicator", "indicators"], "indicator"),
    (&["evaporator", "evaporators"], "evaporator"),
    (&["governor", "governors"], "governor"),
    (&["compressor", "compressors"], "compressor"),
    (&["receiver", "receivers"], "receiver"),
    (&["breaker", "breakers"], "breaker"),
    (&["heater", "heaters"], "heater"),
    (&["cooler", "coolers"], "cooler"),
    (&["burner", "burners"], "burner"),
    (&["boiler", "boilers"], "boiler"),
    (&["inspection", "inspect", "inspects", "inspected", "inspecting"], "inspect"),
    (&["detection", "detect", "detector", "detectors", "detects", "detected"], "detect"),
    (&["injection", "inject", "injects", "injected"], "inject"),
    (&["deposit", "deposits", "deposited"], "deposit"),
    (&["analysis", "analyse", "analysed", "analyze"], "analys"),
    (&["ignition", "ignite", "ignites", "ignited"], "ignit"),
    (&["pressure", "pressures", "pressurise", "pressurised"], "pressur"),
    (&["automatic", "automatically", "automatical", "auto", "automaticly"], "automat"),
    (&["immediate", "immediately"], "immedi"),
    (&["gradual", "gradually"], "gradual"),
    (&["oily", "oil", "oils"], "oil"),
    (&["dirty", "dirt"], "dirt"),
    (&["rusty", "rust", "rusted"], "rust"),
    (&["damaged", "damage", "damages"], "damag"),
    (&["excessive", "excess", "excessively"], "excess"),
    (&["proof", "prove", "proves", "proved", "proven", "proving"], "prove"),
    (&["stopped", "stop", "stops", "stopping", "stoppage"], "stop"),
    (&["tripped", "trip", "trips", "tripping"], "trip"),
    (&["dying", "die", "dies", "died", "dead", "death"], "dead"),
    (&["lying", "lie", "lies", "lay", "laid"], "lie"),
    (&["choice", "choose", "chosen", "chose"], "choos"),
    (&["sought", "seek", "seeks"], "seek"),
    (&["thought", "think"], "think"),
    (&["metre", "metres"], "metre"),
    (&["drive", "drives", "driven", "drove", "driving"], "drive"),
    (&["hold", "holds", "held", "holding"], "hold"),
    (&["send", "sends", "sent", "sending"], "send"),
    (&["build", "builds", "built", "building"], "build"),
    (&["know", "knows", "knew", "known", "knowing"], "know"),
    (&["grow", "grows", "grew", "grown", "growing", "growth"], "grow"),
    (&["throw", "throws", "threw", "thrown"], "throw"),
    (&["tear", "tears", "tore", "torn"], "tear"),
    (&["bend", "bends", "bent", "bending"], "bend"),
    (&["lead", "leads", "led", "leading"], "lead"),
    (&["sink", "sinks", "sank", "sunk", "sinking"], "sink"),
    (&["spin", "spins", "spun", "spinning"], "spin"),
    (&["stand", "stands", "stood", "standing"], "stand"),
    (&["hang", "hangs", "hung", "hanging"], "hang"),
    (&["begin", "begins", "began", "begun", "beginning"], "begin"),
    (&["see", "sees", "saw", "seen", "seeing"], "see"),
    (&["hear", "hears", "heard", "hearing"], "hear"),
    (&["feel", "feels", "felt", "feeling"], "feel"),
    (&["mean", "means", "meant", "meaning"], "mean"),
    (&["burn", "burns", "burnt", "burned", "burning"], "burn"),
    (&["get", "gets", "got", "gotten", "getting"], "get"),
    (&["swell", "swells", "swelled", "swollen", "swelling"], "swell"),
    (&["shake", "shakes", "shook", "shaken", "shaking"], "shake"),
    (&["speak", "speaks", "spoke", "spoken", "speaking"], "speak"),
    (&["shrink", "shrinks", "shrank", "shrunk", "shrinking", "shrinkage"], "shrink"),
    (&["strike", "strikes", "struck", "striking"], "strike"),
    (&["sweep", "sweeps", "swept", "sweeping"], "sweep"),
    (&["spill", "spills", "spilt", "spilled", "spilling", "spillage"], "spill"),
    (&["swing", "swings", "swung", "swinging"], "swing"),
    (&["freeze", "freezes", "froze", "frozen", "freezing"], "freez"),
    (&["melt", "melts", "melted", "molten", "melting"], "melt"),
    (&["bind", "binds", "binding"], "bind"),
    (&["lift", "lifts", "lifted", "lifting"], "lift"),
    (&["absorb", "absorbs", "absorbed", "absorption", "absorbing"], "absorb"),
    (&["convert", "converts", "converted", "conversion", "converting"], "convert"),
    (&["divert", "diverts", "diverted", "diversion", "diverting"], "divert"),
    (&["retain", "retains", "retained", "retention"], "retain"),
    (&["transmit", "transmits", "transmitted", "transmission"], "transmit"),
    (&["admit", "admits", "admitted", "admission"], "admit"),
    (&["decide", "decides", "decided", "decision"], "decid"),
    (&["divide", "divides", "divided", "division"], "divid"),
    (&["expose", "exposes", "exposed", "exposure"], "expos"),
    (&["seize", "seizes", "seized", "seizure", "seizing"], "seiz"),
    (&["mix", "mixes", "mixed", "mixture", "mixing"], "mix"),
    (&["moist", "moisture"], "moistur"),
    (&["deep", "deeper", "depth", "depths"], "deep"),
    (&["strong", "stronger", "strongest", "strength"], "strong"),
    (&["weak", "weaker", "weakest"], "weak"),
    (&["short", "shorter", "shortest"], "short"),
    (&["weigh", "weighs", "weighed", "weight", "weights"], "weigh"),
    (&["warm", "warms", "warmed", "warmer", "warmth", "warming"], "warm"),
    (&["heavy", "heavier", "heaviest", "heavily"], "heavi"),
    (&["hard", "harder", "hardness", "hardened", "harden"], "hard"),
    (&["soft", "softer", "soften", "softened"], "soft"),
    (&["tight", "tighter", "tightness", "tighten", "tightened", "tightening"], "tight"),
    (&["clean", "cleans", "cleaned", "cleaner", "cleanliness", "cleaning"], "clean"),
    (&["viscous", "viscosity", "viscosities"], "viscos"),
    (&["alkaline", "alkalinity", "alkali"], "alkali"),
    (&["humid", "humidity"], "humid"),
    (&["dense", "density", "denser"], "dens"),
    (&["efficient", "efficiency", "efficiently"], "effici"),
    (&["stable", "stability"], "stabil"),
    (&["solid", "solidify", "solidifies", "solidified"], "solid"),
    (&["deliver", "delivers", "delivered", "delivery", "deliveries", "delivering"], "deliv"),
    (&["recover", "recovers", "recovered", "recovery"], "recov"),
    (&["injure", "injures", "injured", "injury", "injuries"], "injur"),
    (&["stow", "stows", "stowed", "stowage"], "stow"),
    (&["drain", "drains", "drained", "drainage", "draining"], "drain"),
    (&["waste", "wastes", "wasted", "wastage"], "wast"),
    (&["store", "stores", "stored", "storage"], "store"),
    (&["use", "uses", "used", "using", "usage"], "use"),
    (&["remove", "removes", "removed", "removal", "removing"], "remov"),
    (&["approve", "approves", "approved", "approval"], "approv"),
    (&["renew", "renews", "renewed", "renewal", "renewing"], "renew"),
    (&["withdraw", "withdraws", "withdrew", "withdrawn", "withdrawal", "withdrawing"], "withdraw"),
    (&["move", "moves", "moved", "moving", "movement", "movements"], "move"),
    (&["treat", "treats", "treated", "treating", "treatment"], "treat"),
    (&["differ", "differs", "different", "difference", "differences"], "differ"),
    (&["absent", "absence"], "absent"),
    (&["day", "days", "daily"], "day"),
    (&["week", "weeks", "weekly"], "week"),
    (&["month", "months", "monthly"], "month"),
    (&["year", "years", "yearly", "annual", "annually"], "year"),
    (&["hour", "hours", "hourly"], "hour"),
    (&["early", "earlier", "earliest"], "earli"),
    (&["late", "later", "latest"], "late"),
    (&["cross", "crosses", "crossed", "crossing"], "cross"),
    (&["dissolve", "dissolves", "dissolved", "dissolving"], "dissolv"),
    (&["distort", "distorts", "distorted", "distortion", "distorting"], "distort"),
    (&["contract", "contracts", "contracted", "contraction"], "contract"),
    (&["submerge", "submerged", "submerges"], "submerg"),
    (&["atomise", "atomises", "atomised", "atomisation", "atomising"], "atomis"),
    (&["vaporise", "vaporises", "vaporised", "vaporisation"], "vaporis"),
    (&["emulsify", "emulsifies", "emulsified", "emulsion"], "emuls"),
    (&["starve", "starves", "starved", "starvation"], "starv"),
    (&["indicate", "indicates", "indicated", "indication", "indicating"], "indic"),
];

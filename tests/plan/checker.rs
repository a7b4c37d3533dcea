//! An independent check of `plan.json`. It knows only the file and the laws that DEVELOPERS.md
//! states for its fields: nothing of the program's types or code is used here.

use serde_json::Value;

#[path = "checker/motif.rs"]
mod motif;
#[path = "checker/received.rs"]
mod received;

use received::apart;

/// A repeat, as (horizontal, vertical, drop).
type Repeat = (i128, i128, i128);

/// Everything wrong with a plan, in sentences; empty when it is right.
pub fn problems(text: &str) -> Vec<String> {
    let plan: Value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(error) => return vec![format!("not JSON: {error}")],
    };
    let mut check = Check { plan: &plan, found: Vec::new() };
    check.run();
    check.found
}

struct Check<'a> {
    plan: &'a Value,
    found: Vec<String>,
}

fn int(value: &Value, key: &str) -> i128 {
    value[key].as_i64().unwrap_or_else(|| panic!("{key} is not a whole number: {}", value[key])).into()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("{key} is not a list"))
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_else(|| panic!("{key} is not text"))
}

fn turned(room: &Value) -> bool {
    text(&room["registration"], "way") == "railroaded"
}

fn repeat(cloth: &Value) -> Option<Repeat> {
    let pattern = &cloth["pattern"];
    (!pattern.is_null()).then(|| (int(pattern, "horizontal"), int(pattern, "vertical"), int(pattern, "drop")))
}

impl<'a> Check<'a> {
    fn say(&mut self, ok: bool, what: impl FnOnce() -> String) {
        if !ok {
            self.found.push(what());
        }
    }

    fn run(&mut self) {
        self.say(text(self.plan, "unit") == "nm", || "the unit is not nm".into());
        for room in list(self.plan, "rooms") {
            self.ribbon(room);
            for wall in list(room, "walls").iter().filter(|w| !w["panel"].is_null()) {
                self.panel(room, wall);
                self.cover(wall);
            }
        }
        for (index, cloth) in list(self.plan, "cloths").iter().enumerate() {
            self.totals(cloth);
            let of_cloth = |piece: &&Value| int(piece, "cloth") == index as i128;
            let mut cut: Vec<i128> = list(self.plan, "pieces")
                .iter()
                .filter(of_cloth)
                .filter_map(|piece| piece["sample"].as_i64().map(i128::from))
                .collect();
            cut.sort_unstable();
            let asked = list(cloth, "samples").len() as i128;
            self.say(cut.into_iter().eq(0..asked), || {
                format!("{}: not each sample once", text(cloth, "name"))
            });
            self.bolts(index, cloth);
        }
        for piece in list(self.plan, "pieces") {
            if text(piece, "kind") == "sample" { self.sample(piece) } else { self.congruent(piece) }
        }
        self.cut_outs();
    }

    /// What comes back lies in its piece and in its covered opening, and every covered opening that
    /// the cloth reaches gives something back.
    fn cut_outs(&mut self) {
        let sides = |r: &Value| ["x0", "y0", "x1", "y1"].map(|side| int(r, side));
        let cut_outs = list(self.plan, "cut_outs");
        for out in cut_outs {
            let piece = &list(self.plan, "pieces")[int(out, "piece") as usize];
            let wall = &self.room_of(piece)["walls"][int(&piece["wall"], "wall") as usize];
            let opening = &list(wall, "openings")[int(out, "opening") as usize];
            let label = text(opening, "label");
            let [x0, y0, x1, y1] = sides(&out["usable"]);
            let [gx0, gy0, gx1, gy1] = sides(&piece["gross"]);
            let [ox0, oy0, ox1, oy1] = sides(&opening["outer"]);
            let at = int(wall, "x");
            self.say(x0 < x1 && y0 < y1, || format!("{label}: nothing comes back"));
            self.say(gx0 <= x0 && x1 <= gx1 && gy0 <= y0 && y1 <= gy1, || {
                format!("{label}: cloth comes back that was not there")
            });
            self.say(at + ox0 <= x0 && x1 <= at + ox1 && oy0 <= y0 && y1 <= oy1, || {
                format!("{label}: cloth comes back from beside the opening")
            });
        }
        for (r, room) in list(self.plan, "rooms").iter().enumerate() {
            for (w, wall) in list(room, "walls").iter().enumerate().filter(|(_, w)| !w["panel"].is_null()) {
                for (o, opening) in list(wall, "openings").iter().enumerate() {
                    let given = cut_outs.iter().filter(|c| {
                        (int(&c["wall"], "room"), int(&c["wall"], "wall"), int(c, "opening"))
                            == (r as i128, w as i128, o as i128)
                    });
                    let wide: i128 = given.map(|c| int(&c["usable"], "x1") - int(&c["usable"], "x0")).sum();
                    let outer = &opening["outer"];
                    let whole = int(outer, "x1").min(int(wall, "width")) - int(outer, "x0").max(0);
                    let pieced = opening["pieced"] == true;
                    self.say(if pieced { wide == 0 } else { wide >= whole }, || {
                        format!("{}: {wide} wide comes back of {whole}", text(opening, "label"))
                    });
                }
            }
        }
    }

    fn room_of(&self, piece: &Value) -> &'a Value {
        &self.plan["rooms"][int(&piece["wall"], "room") as usize]
    }

    /// The walls stand end to end on the ribbon, and the pattern misses at its end as stated.
    fn ribbon(&mut self, room: &Value) {
        let name = text(room, "name");
        let walls = list(room, "walls");
        let mut at = 0;
        for wall in list(room, "ribbon") {
            let wall = &walls[wall.as_u64().expect("an index") as usize];
            self.say(int(wall, "x") == at, || {
                format!("{name}: wall {} is off the ribbon", text(wall, "label"))
            });
            at += int(wall, "width");
        }
        self.say(int(room, "length") == at, || format!("{name}: the ribbon is not as long as its walls"));
        let Some((h, v, drop)) = repeat(&self.plan["cloths"][int(room, "cloth") as usize]) else {
            self.say(room["kill"].is_null(), || format!("{name}: plain cloth cannot miss"));
            return;
        };
        let start = &room["registration"];
        let turned = text(start, "way") == "railroaded";
        let motif = int(start, if turned { "y0" } else { "x0" });
        self.say(motif - int(start, "match_line") == h / 2, || {
            format!("{name}: a motif stands half a repeat from its match line")
        });
        // What repeats along the walls; railroaded, nothing falls on the way.
        let (h, drop) = if turned { (v, 0) } else { (h, drop) };
        for corner in list(room, "corners") {
            self.say((0..h).contains(&int(corner, "consumed")), || {
                format!("{name}: a corner consumes a repeat")
            });
        }
        let kill = &room["kill"];
        if kill.is_null() {
            let ends = [list(room, "ribbon").first(), list(room, "ribbon").last()];
            let clothed =
                ends.iter().flatten().all(|w| walls[w.as_u64().unwrap_or(0) as usize]["clothed"] == true);
            if room["closed"] == true && clothed {
                self.say(at % h == 0 && (at / h * drop) % v == 0, || format!("{name}: a miss is not named"));
            }
            return;
        }
        // What arrives at the end: match lines at multiples of H from the start. What began there:
        // the same from the end of the ribbon.
        let (across, up) = (int(kill, "miss_across"), int(kill, "miss_up"));
        self.say((at + across) % h == 0 && across.abs() * 2 <= h, || {
            format!("{name}: the miss across is wrong")
        });
        let columns = (at + across) / h;
        self.say((columns * drop + up).rem_euclid(v) == 0 && up.abs() * 2 <= v, || {
            format!("{name}: the miss up is wrong")
        });
    }

    /// Strips of one wall meet at match lines a match width apart, which are the room's.
    fn panel(&mut self, room: &Value, wall: &Value) {
        let name = format!("wall {}", text(wall, "label"));
        let cloth = &self.plan["cloths"][int(room, "cloth") as usize];
        let step = int(cloth, "match_width");
        let sides: Vec<i128> = list(wall, "openings")
            .iter()
            .filter(|o| o["pieced"] == true)
            .flat_map(|o| [int(&o["outer"], "x0"), int(&o["outer"], "x1")])
            .collect();
        let panel = &wall["panel"];
        for strip in list(panel, "strips") {
            let piece = &self.plan["pieces"][int(strip, "piece") as usize];
            let along =
                ["x0", "x1"].iter().all(|k| int(&strip["net"], k) + int(wall, "x") == int(&piece["net"], k));
            let up = ["y0", "y1"].iter().all(|k| int(&strip["net"], k) == int(&piece["net"], k));
            self.say(along && up, || format!("{name}: strip {} is not its piece", text(strip, "label")));
        }
        let seams: Vec<i128> = list(panel, "seams").iter().map(|s| int(s, "x")).collect();
        for stretch in list(wall, "no_seam") {
            let ends: Vec<i128> = stretch
                .as_array()
                .into_iter()
                .flatten()
                .map(|e| i128::from(e.as_i64().unwrap_or(0)))
                .collect();
            let clear = seams.iter().all(|&x| x <= ends[0] || ends[1] <= x);
            self.say(clear, || format!("{name}: a seam stands where none may"));
        }
        let lines: Vec<i128> = seams.iter().copied().filter(|x| !sides.contains(x)).collect();
        for pair in lines.windows(2) {
            self.say((pair[1] - pair[0]) % step == 0, || format!("{name}: seams are not match widths apart"));
        }
        if turned(room) {
            self.say(lines.is_empty(), || format!("{name}: railroaded cloth has no seams of its own"));
        } else if let Some((h, ..)) = repeat(cloth) {
            for &x in &lines {
                let off = int(wall, "x") + x - int(&room["registration"], "match_line");
                self.say(off % h == 0, || format!("{name}: the seam at {x} is no match line of the room"));
            }
        }
        let (left, right) = (int(&panel["left"], "allowance"), int(&panel["right"], "allowance"));
        let gross = &panel["gross"];
        let lean = int(wall, "lean");
        self.say(left >= lean && right >= lean, || format!("{name}: an end does not reach over the lean"));
        self.say(int(gross, "x0") <= -left && int(gross, "x1") >= int(wall, "width") + right, || {
            format!("{name}: the sewn panel is not as wide as its allowances")
        });
    }

    /// The strips cover the field from end to end and from bottom to top, but for pieced openings.
    fn cover(&mut self, wall: &Value) {
        let name = format!("wall {}", text(wall, "label"));
        let width = int(wall, "width");
        let points: Vec<(i128, i128)> =
            list(wall, "field").iter().map(|p| (int(p, "x"), int(p, "y"))).collect();
        let Some(turn) = points.iter().position(|p| p.0 == width) else {
            self.found.push(format!("{name}: the field does not reach the right end"));
            return;
        };
        let (bottom, top) = points.split_at(turn + 1);
        // Left to right, as the bottom: so a step has its left height first.
        let top: Vec<(i128, i128)> = top.iter().rev().copied().collect();
        let rect = |r: &Value| (int(r, "x0"), int(r, "y0"), int(r, "x1"), int(r, "y1"));
        let mut cover: Vec<_> = list(&wall["panel"], "strips").iter().map(|s| rect(&s["net"])).collect();
        let mut cover: Vec<_> = cover.drain(..).map(|r: (i128, i128, i128, i128)| (r, 0)).collect();
        let holes = list(wall, "openings").iter().filter(|o| o["pieced"] == true);
        cover.extend(holes.map(|o| (rect(&o["outer"]), int(o, "rise"))));
        let mut xs: Vec<i128> =
            cover.iter().flat_map(|(r, _)| [r.0, r.2]).chain(points.iter().map(|p| p.0)).collect();
        xs.extend([0, width]);
        xs.retain(|x| (0..=width).contains(x));
        xs.sort_unstable();
        xs.dedup();
        for span in xs.windows(2) {
            let edge = |chain: &[(i128, i128)], least: bool| {
                let ends = [height(chain, span[0], true), height(chain, span[1], false)];
                if least { ends[0].min(ends[1]) } else { ends[0].max(ends[1]) }
            };
            let (mut reached, until) = (edge(bottom, true), edge(&top, false));
            // An arch hides the wall up to where it is lowest over the span.
            let lowest = |r, rise| arch(r, rise, span[0]).min(arch(r, rise, span[1]));
            let over = cover.iter().filter(|(r, _)| r.0 <= span[0] && span[1] <= r.2);
            let mut parts: Vec<_> = over.map(|&(r, rise)| (r.0, r.1, r.2, lowest(r, rise))).collect();
            parts.sort_by_key(|r| r.1);
            for part in parts {
                if part.1 <= reached {
                    reached = reached.max(part.3);
                }
            }
            self.say(reached >= until, || {
                format!("{name}: no cloth over {reached} between {} and {}", span[0], span[1])
            });
        }
    }

    /// A sample is cut as large as it is asked for, and where a motif is asked for with one in its middle and off
    /// the selvages: told from the bolt alone.
    fn sample(&mut self, piece: &Value) {
        let label = text(piece, "label");
        let cloth = &self.plan["cloths"][int(piece, "cloth") as usize];
        let (asked, cut) = (&list(cloth, "samples")[int(piece, "sample") as usize], &piece["cut"]);
        self.say(piece["wall"].is_null(), || format!("{label}: a sample lies on a wall"));
        let (width, length) = (int(cut, "width"), int(cut, "length"));
        self.say(width == int(asked, "width") && length == int(asked, "length"), || {
            format!("{label}: not of the size that is asked for")
        });
        let (u, selvage, wide) = (int(cut, "u"), int(cloth, "selvage"), int(cloth, "width"));
        let off = if asked["motif"] == true { selvage } else { 0 };
        self.say(u >= off && u + width <= wide - off, || format!("{label}: selvage, or beyond the cloth"));
        self.say(piece["matched"] == asked["motif"], || format!("{label}: a motif, or none, in its middle"));
        if asked["motif"] == true {
            let (h, v, drop) = repeat(cloth).expect("a motif has a pattern");
            let across = u + width / 2 - int(cloth, "left_match") - h / 2;
            self.say(across % h == 0, || format!("{label}: its middle is in no column of motifs"));
            let bolt = &cloth["bolts"][int(cut, "bolt") as usize];
            // Its lower half is the smaller one by an odd nanometre.
            let middle = int(cut, "v") + length - length / 2 + int(bolt, "start");
            let row = middle - across / h * drop;
            self.say(row % v == 0, || format!("{label}: its middle is on no motif"));
        }
    }

    /// The law of the pattern, the allowances and the selvages, for one piece.
    fn congruent(&mut self, piece: &Value) {
        let label = text(piece, "label");
        let room = self.room_of(piece);
        let cloth = &self.plan["cloths"][int(piece, "cloth") as usize];
        let wall = &room["walls"][int(&piece["wall"], "wall") as usize];
        let (net, gross, cut) = (&piece["net"], &piece["gross"], &piece["cut"]);
        let start = &room["registration"];
        let turned = turned(room);
        if piece["matched"] == true {
            let (h, v, drop) = repeat(cloth).expect("a matched piece has a pattern");
            let edge = int(gross, if turned { "y0" } else { "x0" });
            let line = edge + int(cloth, "left_match") - int(cut, "u") - int(start, "match_line");
            let column = int(piece, "column");
            self.say(line == column * h, || format!("{label}: not on its column"));
            let bolt = &cloth["bolts"][int(cut, "bolt") as usize];
            let down = int(cut, "v") + int(bolt, "start");
            let wanted = if turned {
                int(gross, "x0") - int(start, "x0") - column * drop
            } else {
                int(start, "y0") - column * drop - int(gross, "y1")
            };
            self.say((down - wanted).rem_euclid(v) == 0, || format!("{label}: the pattern does not meet"));
            self.say(int(piece, "phase") == wanted.rem_euclid(v), || format!("{label}: the phase is wrong"));
            self.first_motif(piece, start, (h, v, drop));
        } else if text(piece, "kind").ends_with("strip") {
            // Trim that needs no match may lie anywhere.
        } else {
            self.say(repeat(cloth).is_none(), || format!("{label}: a drop of patterned cloth must match"));
        }
        let size = (int(gross, "x1") - int(gross, "x0"), int(gross, "y1") - int(gross, "y0"));
        let (across, along) = if turned { (size.1, size.0) } else { size };
        self.say(int(cut, "width") == across, || format!("{label}: cut width"));
        self.say(int(cut, "length") == along, || format!("{label}: cut length"));
        self.say(text(cloth, "way") == text(start, "way"), || format!("{label}: hangs against its cloth"));
        let inside = ["x0", "y0"].iter().all(|k| int(gross, k) <= int(net, k))
            && ["x1", "y1"].iter().all(|k| int(gross, k) >= int(net, k));
        self.say(inside, || format!("{label}: the cut does not hold what shows"));
        let upright = !text(piece, "kind").ends_with("strip");
        let (left, right) = (int(wall, "x"), int(wall, "x") + int(wall, "width"));
        // What may show: the net width, and the lean at an end of the wall that no strip reaches beyond.
        let lean = if upright { int(wall, "lean") } else { 0 };
        let strips = if upright { list(&wall["panel"], "strips") } else { &[] };
        let alone0 = strips.iter().all(|s| int(&s["net"], "x0") >= 0);
        let alone1 = strips.iter().all(|s| int(&s["net"], "x1") <= int(wall, "width"));
        let shows0 = int(net, "x0") - if int(net, "x0") == left && alone0 { lean } else { 0 };
        let shows1 = int(net, "x1") + if int(net, "x1") == right && alone1 { lean } else { 0 };
        // Railroaded, what shows from below to above lies across the cloth.
        let (shows0, shows1) = if turned { (int(net, "y0"), int(net, "y1")) } else { (shows0, shows1) };
        let face: Vec<i128> = list(piece, "face").iter().filter_map(|f| f.as_i64()).map(i128::from).collect();
        self.say(face == [shows0, shows1], || format!("{label}: the face is not what may show"));
        let u = |place: i128| int(cut, "u") + place - int(gross, if turned { "y0" } else { "x0" });
        let selvage = int(cloth, "selvage");
        self.say(u(shows0) >= selvage && u(shows1) <= int(cloth, "width") - selvage, || {
            format!("{label}: selvage shows")
        });
        if upright {
            let allow = &self.plan["allowances"];
            let seam = int(allow, "seam");
            let beside = |at_wall: bool, cloth: i128| at_wall || cloth >= seam;
            let ends = beside(int(net, "x0") <= left, int(net, "x0") - int(gross, "x0"))
                && beside(int(net, "x1") >= right, int(gross, "x1") - int(net, "x1"));
            self.say(ends, || format!("{label}: no seam allowance"));
            let tall = int(gross, "y1") - int(net, "y1") >= int(allow, "top").min(int(allow, "bottom"))
                && int(net, "y0") - int(gross, "y0") >= int(allow, "top").min(int(allow, "bottom"));
            self.say(tall, || format!("{label}: no allowance at top or bottom"));
        }
    }

    /// Pieces lie inside their lays without overlap, lays follow one another, cuts can be made.
    fn bolts(&mut self, index: usize, cloth: &Value) {
        let all = list(self.plan, "pieces");
        let mut seen = vec![0; all.len()];
        let mut numbers = Vec::new();
        let longest = int(cloth, "bolt_length") - repeat(cloth).map_or(0, |r| r.1);
        let step = int(self.plan, "step");
        for (b, bolt) in list(cloth, "bolts").iter().enumerate() {
            let mut at = 0;
            for (l, lay) in list(bolt, "lays").iter().enumerate() {
                let (v0, v1) = (int(lay, "v0"), int(lay, "v1"));
                let made = lay["made"] == true;
                // Lays that are cut off already are told by rounded figures.
                let (slack, touch) = if made { (step, 12_700_000) } else { (0, 0) };
                self.say(v0 >= at - touch && v1 > v0, || {
                    format!("bolt {b}: lay {l} begins before the last ends")
                });
                at = at.max(v1);
                let mut rects = Vec::new();
                for id in list(lay, "pieces") {
                    let id = id.as_u64().expect("an index") as usize;
                    seen[id] += 1;
                    let (piece, cut) = (&all[id], &all[id]["cut"]);
                    let here = (int(cut, "bolt"), int(cut, "lay")) == (b as i128, l as i128);
                    self.say(here && int(piece, "cloth") == index as i128, || {
                        format!("piece {id} is elsewhere")
                    });
                    numbers.push(int(cut, "number"));
                    let r = (int(cut, "u"), int(cut, "v"), int(cut, "width"), int(cut, "length"));
                    let across = r.0 >= -slack && r.0 + r.2 <= int(cloth, "width") + slack;
                    let inside = across && r.1 >= v0 - slack && r.1 + r.3 <= v1 + slack;
                    self.say(inside, || format!("piece {} lies off its lay", text(piece, "label")));
                    rects.push(r);
                }
                if made {
                    self.say(apart(&rects, 2 * step), || {
                        format!("bolt {b}: lay {l} holds pieces twice over")
                    });
                    continue;
                }
                let ends = (rects.iter().map(|r| r.1).min(), rects.iter().map(|r| r.1 + r.3).max());
                self.say(ends == (Some(v0), Some(v1)), || {
                    format!("bolt {b}: lay {l} is not as long as its pieces")
                });
                self.say(cuttable(rects), || format!("bolt {b}: lay {l} cannot be cut lengthwise"));
            }
            self.say(int(bolt, "used") == at, || format!("bolt {b}: used is not the end of its last lay"));
            let ordered = bolt["on_hand"].is_null();
            self.say(!ordered || at <= longest, || format!("bolt {b} is longer than any that is delivered"));
            if !ordered {
                let there = &list(cloth, "on_hand")[int(bolt, "on_hand") as usize];
                self.made(cloth, b, bolt, there, step);
                self.clear_of_flaws(cloth, bolt, there);
            }
        }
        for (id, piece) in all.iter().enumerate().filter(|(_, p)| int(p, "cloth") == index as i128) {
            self.say(seen[id] == 1, || format!("piece {} is cut {} times", text(piece, "label"), seen[id]));
        }
        numbers.sort_unstable();
        // No two cuts of a job bear the same number: those of a further cloth run on.
        let before = all.iter().filter(|p| int(p, "cloth") < index as i128).count();
        let counted = numbers.iter().enumerate().all(|(i, &n)| n == (before + i) as i128 + 1);
        self.say(counted, || format!("cuts are not numbered from {} without a gap", before + 1));
    }

    /// The sums of one cloth.
    fn totals(&mut self, cloth: &Value) {
        let name = text(cloth, "name");
        let bolts = list(cloth, "bolts");
        let used: i128 = bolts.iter().map(|b| int(b, "used")).sum();
        self.say(int(cloth, "used") == used, || format!("{name}: used is not the sum of its bolts"));
        let on_hand = list(cloth, "on_hand");
        let known = |b: &&Value| {
            !b["on_hand"].is_null() && !on_hand[int(b, "on_hand") as usize]["first_motif"].is_null()
        };
        let unknown = bolts.iter().filter(|b| !known(b)).count();
        let allowance = repeat(cloth).map_or(0, |r| r.1) * unknown as i128;
        self.say(int(cloth, "phase_allowance") == allowance, || format!("{name}: phase allowance"));
        let needed = used + allowance + int(cloth, "spare");
        // So much more is delivered that enough is left, and no nanometre more.
        let (kept, delivered) = (10_000 - int(&cloth["shrinkage"], "along"), needed + int(cloth, "shrinks"));
        self.say(delivered * kept >= needed * 10_000 && (delivered - 1) * kept < needed * 10_000, || {
            format!("{name}: what relaxing loses")
        });
        let needed = delivered;
        let unit = int(cloth, "sold_in");
        let (units, order) = (int(cloth, "order_units"), int(cloth, "order"));
        self.say(order == units * unit, || format!("{name}: the order is not its units"));
        if !on_hand.is_empty() {
            self.say(int(cloth, "bound") <= used, || {
                format!("{name}: less is used than was proved possible")
            });
            self.say(units == 0, || format!("{name}: ordered though there are bolts"));
            self.shelf(cloth, on_hand);
            return;
        }
        self.say(order >= needed && order - needed < unit, || {
            format!("{name}: the order is not rounded up once")
        });
        for trial in list(cloth, "compared").iter().filter(|t| text(t, "way") == text(cloth, "way")) {
            self.say((int(trial, "used"), int(trial, "order_units")) == (used, units), || {
                format!("{name}: the comparison is of another plan")
            });
        }
        self.say(int(cloth, "bound") <= used, || format!("{name}: less is used than was proved possible"));
    }
}

/// The height of the head of an opening (x0, y0, x1, y1) at x, by the circle through its springings and
/// its crown; rounded up, so that what is cut to it by another way is not called short.
fn arch((x0, _, x1, y1): (i128, i128, i128, i128), rise: i128, x: i128) -> i128 {
    if rise == 0 {
        return y1;
    }
    let (half, rise) = ((x1 - x0) as f64 / 2.0, rise as f64);
    let radius = (half * half + rise * rise) / (2.0 * rise);
    let off = x as f64 - (x0 + x1) as f64 / 2.0;
    y1 + ((radius * radius - off * off).max(0.0).sqrt() - radius).ceil() as i128 + 1
}

/// The height of a chain of points at x; at a step, that of its right or of its left side.
fn height(points: &[(i128, i128)], x: i128, right: bool) -> i128 {
    for pair in points.windows(2) {
        let ((ax, ay), (bx, by)) = (pair[0], pair[1]);
        let within = if right { ax <= x && x < bx } else { ax < x && x <= bx };
        if within {
            // Rounded half away from zero, as lengths are everywhere.
            let (num, den) = ((by - ay) * (x - ax), bx - ax);
            let half = den / 2;
            return ay + if num >= 0 { (num + half) / den } else { (num - half) / den };
        }
    }
    if right { points[0].1 } else { points[points.len() - 1].1 }
}

/// Whether lengthwise cuts part the rectangles (u, v, width, length) into columns whose pieces lie
/// one after the other; this also proves that none overlap.
fn cuttable(mut rects: Vec<(i128, i128, i128, i128)>) -> bool {
    rects.sort_unstable();
    let mut column: Vec<(i128, i128)> = Vec::new();
    let mut right = i128::MIN;
    for (u, v, width, length) in rects {
        if u >= right {
            column.clear();
        }
        right = right.max(u + width);
        if column.iter().any(|&(from, to)| v < to && from < v + length) {
            return false;
        }
        column.push((v, v + length));
    }
    true
}

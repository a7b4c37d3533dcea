//! A job of as many rooms as asked for, no two alike.

/// Rooms of four walls, with a door each, all of one cloth; the same text for the same number.
pub fn street(rooms: usize) -> String {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut below = |most: u64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state % most
    };
    let mut job = "units in\njob \"J-0500\" title=\"A street of rooms, invented\"\n\
                   cloth \"c\" {\n    width 54\n    repeat horizontal=\"13 1/2in\" vertical=18 drop=half\n}\n"
        .to_owned();
    for room in 1..=rooms {
        let sides = [0, 1].map(|_| format!("{}ft {}in", 8 + below(9), below(12)));
        let (height, door) = (format!("{}ft {}in", 7 + below(3), below(12)), 1 + below(3));
        job += &format!("room \"room {room}\" {{\n    casing \"3 1/2in\"\n");
        for (wall, corner) in ["A", "B", "C", "D"].iter().enumerate() {
            let width = &sides[wall % 2];
            job +=
                &format!("    corner {corner} inside\n    wall {} {{\n        width \"{width}\"\n", wall + 1);
            job += &format!("        height \"{height}\"\n");
            if wall == 0 {
                job += &format!("        door from-left=\"{door}ft\" width=32 height=80\n");
            }
            job += "    }\n";
        }
        job += "}\n";
    }
    job
}

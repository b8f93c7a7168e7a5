//! A run whose promises are looked at.

/// Pins that are sealed and slabs that are domed in the label's own air, so that the label's hours
/// hold.
pub const RUN: &str = r#"
[run]
name = "test"
start = 2027-03-01T08:00:00
[[piece]]
name = "pin"
count = 70
blank = "disc"
steps = ["seal", "bag"]
[[piece]]
name = "slab"
count = 2
blank = "disc"
steps = ["dome", "bag"]
[[blank]]
name = "disc"
outline = { round = "20 mm" }
porous = false
have = 0
pack = { of = 25, price = 6.40 }
[[coating]]
name = "sealer"
family = "water-based sealer"
label = { at = ["23 C", "50 %"], handle = "2 h" }
[[coating]]
name = "glaze"
family = "water-based dome glaze"
label = { at = ["23 C", "50 %"], handle = "24 h", recoat = "24 h" }
[[supply]]
name = "kraft bag"
pack = { of = 100, price = 7.50 }
[[step]]
name = "seal"
coating = "sealer"
hands_on = "20 s"
[[step]]
name = "dome"
coating = "glaze"
hands_on = "50 s"
[[step]]
name = "bag"
hands_on = "15 s"
supplies = [{ name = "kraft bag", per_piece = 1 }]
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["08:00-20:00"]
weekend = ["08:00-20:00"]
first_run = false
"#;

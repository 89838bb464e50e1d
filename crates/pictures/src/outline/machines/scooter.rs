//! Scooter: a floor to step through, a shield in front, small wheels, the engine at the rear wheel.

use super::super::drawing::Drawing;
use super::super::form::{Form, Shown, Tone, disc, line, solid, tube};
use super::super::skeleton::{Skeleton, Wheel, signs};
use crate::geometry::{Bounds, Shape, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1280.0,
    front_radius: 220.0,
    rear_radius: 220.0,
    front_tyre: 66.0,
    rear_tyre: 70.0,
    wheel: Wheel::Cast(5),
    front_disc: 96.0,
    rear_disc: 92.0,
    rake: 26.0,
    fork: 720.0,
    bottom_yoke: 330.0,
    sliders: 200.0,
    fork_width: 40.0,
    upside_down: false,
    pivot: (330.0, 290.0),
    swingarm_width: 50.0,
    sprocket: (0.0, 0.0, 0.0),
    rear_sprocket: 0.0,
    mudguard: (26.0, 30.0, 160.0),
    carburettors: (290.0, 470.0),
    front_master: (950.0, 1075.0),
};

pub(super) fn drawing() -> Drawing {
    let mut forms = SKELETON.wheels();
    forms.extend(SKELETON.steering());
    // Under the floor, as it runs.
    forms.push(line(
        "throttle-cables",
        30,
        &[
            k(920, 1070),
            s(965, 900),
            s(985, 500),
            s(940, 300),
            s(700, 262),
            s(480, 290),
            s(310, 470),
        ],
    ));
    forms.extend(body());
    forms.extend(engine());
    forms.extend(drive());
    forms.extend(hidden());
    Drawing {
        view: Bounds::new(-400.0, -30.0, 1560.0, 1320.0),
        zones: vec![
            ("bars", Bounds::new(640.0, 1010.0, 1560.0, 1320.0)),
            ("nose", Bounds::new(830.0, 730.0, 1560.0, 1010.0)),
            ("fork", Bounds::new(1030.0, 440.0, 1560.0, 730.0)),
            ("front-wheel", Bounds::new(1030.0, -30.0, 1560.0, 440.0)),
            ("tank", Bounds::new(460.0, 380.0, 830.0, 720.0)),
            ("belly", Bounds::new(430.0, -30.0, 1030.0, 380.0)),
            ("engine", Bounds::new(110.0, -30.0, 430.0, 600.0)),
            ("seat", Bounds::new(60.0, 720.0, 640.0, 1010.0)),
            ("rear", Bounds::new(-400.0, -30.0, 110.0, 720.0)),
        ],
        forms,
    }
}

fn body() -> Vec<Form> {
    let tail = [
        k(560, 360),
        s(520, 520),
        k(560, 735),
        s(300, 745),
        s(0, 760),
        k(-230, 790),
        s(-310, 720),
        k(-320, 650),
        s(-180, 540),
        s(40, 500),
        s(230, 430),
        k(330, 330),
    ];
    let strip = [
        k(980, 300),
        k(560, 290),
        k(500, 260),
        k(540, 215),
        s(900, 210),
        k(1000, 250),
    ];
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            40.0,
            &[
                k(985, 900),
                s(1010, 600),
                s(960, 330),
                s(860, 270),
                s(540, 270),
                s(440, 420),
                k(200, 690),
            ],
        ),
        solid(
            "front-panel",
            50,
            Tone::Body,
            &[
                k(985, 1015),
                s(1080, 900),
                s(1150, 760),
                s(1170, 620),
                k(1105, 440),
                s(1060, 360),
                k(1000, 300),
                s(1010, 560),
                k(960, 900),
            ],
        )
        .with(&[
            &[s(1060, 880), s(1105, 700), s(1080, 500)],
            &[k(1090, 620), k(1130, 610)],
            &[k(1085, 590), k(1125, 580)],
        ]),
        solid(
            "leg-shield",
            49,
            Tone::Metal,
            &[
                k(985, 1010),
                s(930, 900),
                s(940, 700),
                s(940, 500),
                s(890, 380),
                k(820, 330),
                k(1010, 305),
                s(1020, 600),
                k(1000, 980),
            ],
        ),
        solid(
            "floor-board",
            48,
            Tone::Dark,
            &[
                k(1010, 345),
                s(920, 330),
                s(700, 325),
                k(540, 335),
                k(545, 285),
                k(1000, 290),
            ],
        ),
        solid(
            "tunnel-cover",
            47,
            Tone::Body,
            &[
                s(560, 340),
                s(620, 400),
                s(760, 395),
                s(880, 420),
                s(930, 350),
                k(900, 325),
                k(560, 325),
            ],
        ),
        solid("lower-strip-right", 51, Tone::Body, &strip).right(),
        solid("lower-strip-left", 51, Tone::Body, &strip).left(),
        solid(
            "seat",
            55,
            Tone::Dark,
            &[
                k(600, 745),
                s(590, 800),
                s(480, 815),
                s(300, 795),
                s(200, 835),
                s(20, 860),
                k(-150, 855),
                s(-190, 815),
                k(-150, 775),
                s(200, 750),
            ],
        ),
        solid("tail-panel-right", 52, Tone::Body, &tail)
            .with(&[&[s(500, 640), s(200, 640), s(-200, 700)]])
            .right(),
        solid("tail-panel-left", 52, Tone::Body, &tail)
            .with(&[&[s(500, 640), s(200, 640), s(-200, 700)]])
            .left(),
        solid(
            "tail-light",
            54,
            Tone::Metal,
            &[k(-230, 785), s(-305, 735), k(-318, 665), k(-250, 690)],
        ),
        tube(
            "grab-rail",
            56,
            Tone::Metal,
            26.0,
            &[k(-60, 800), s(-230, 880), s(-290, 850), k(-240, 780)],
        ),
        solid(
            "rear-mudguard",
            23,
            Tone::Body,
            &[
                k(-80, 500),
                s(-220, 440),
                s(-300, 330),
                k(-330, 200),
                k(-300, 195),
                s(-250, 320),
                s(-170, 400),
                k(-60, 450),
            ],
        ),
        solid(
            "bar-cover-front",
            58,
            Tone::Body,
            &[
                k(1015, 1030),
                s(1040, 1100),
                s(985, 1165),
                k(930, 1160),
                s(940, 1090),
                k(960, 1035),
            ],
        ),
        solid(
            "bar-cover-rear",
            57,
            Tone::Body,
            &[
                k(960, 1035),
                s(900, 1060),
                k(850, 1100),
                s(880, 1150),
                k(935, 1162),
                s(960, 1100),
            ],
        ),
        solid(
            "headlight",
            59,
            Tone::Metal,
            &[
                s(1030, 1050),
                s(1045, 1095),
                s(1015, 1130),
                s(990, 1095),
                s(995, 1055),
            ],
        ),
        solid(
            "instruments",
            56,
            Tone::Dark,
            &[k(880, 1145), k(950, 1165), k(930, 1190), k(870, 1165)],
        ),
        disc("indicators-front", 53, Tone::Body, (1120.0, 830.0), 32.0),
        tube(
            "handlebars",
            56,
            Tone::Metal,
            26.0,
            &[k(968, 1000), s(940, 1080), k(860, 1090)],
        )
        .and(Shape::Tube(vec![k(890, 1090), k(770, 1075)], 44.0)),
        tube(
            "mirrors",
            55,
            Tone::Body,
            16.0,
            &[k(900, 1110), s(915, 1190), k(895, 1230)],
        )
        .and(Shape::Closed(vec![
            s(825, 1215),
            s(940, 1208),
            s(955, 1265),
            s(845, 1280),
        ])),
        solid(
            "front-master",
            54,
            Tone::Body,
            &[k(895, 1085), k(950, 1080), k(950, 1130), k(895, 1130)],
        )
        .right(),
        solid(
            "rear-master",
            54,
            Tone::Body,
            &[k(895, 1085), k(950, 1080), k(950, 1130), k(895, 1130)],
        )
        .left(),
        solid(
            "battery-hatch",
            53,
            Tone::Body,
            &[k(700, 395), k(820, 400), k(820, 425), k(700, 420)],
        ),
        tube(
            "side-stand-leg",
            46,
            Tone::Body,
            26.0,
            &[k(560, 215), k(380, 110)],
        )
        .left(),
        tube(
            "centre-stand-leg",
            24,
            Tone::Body,
            26.0,
            &[k(380, 250), k(250, 60), k(200, 65)],
        ),
    ]
}

fn engine() -> Vec<Form> {
    vec![
        solid(
            "engine-unit",
            26,
            Tone::Metal,
            &[
                k(430, 290),
                s(440, 390),
                s(330, 440),
                s(180, 400),
                s(-20, 330),
                s(-110, 240),
                s(-60, 160),
                s(80, 160),
                s(250, 190),
                k(380, 220),
            ],
        ),
        disc("fan-cover", 34, Tone::Body, (240.0, 310.0), 100.0)
            .right()
            .detail(Shape::Ring {
                x: 240.0,
                y: 310.0,
                outer: 70.0,
                inner: 24.0,
            }),
        solid(
            "",
            27,
            Tone::Body,
            &[k(330, 250), k(330, 370), k(470, 360), k(470, 260)],
        )
        .with(&[
            &[k(355, 245), k(355, 375)],
            &[k(380, 245), k(380, 375)],
            &[k(405, 245), k(405, 375)],
            &[k(430, 245), k(430, 375)],
        ]),
        solid(
            "valve-cover",
            28,
            Tone::Body,
            &[k(472, 258), s(510, 280), s(510, 340), k(472, 362)],
        ),
        tube(
            "exhaust",
            38,
            Tone::Metal,
            38.0,
            &[k(430, 250), s(450, 190), s(330, 140), k(140, 170)],
        )
        .right()
        .and(Shape::Tube(vec![k(190, 172), s(100, 190), k(-260, 270)], 92.0)),
        tube("rear-shocks", 40, Tone::Body, 26.0, &[k(-40, 230), k(-10, 640)])
            .and(Shape::Tube(vec![k(-32, 340), k(-14, 570)], 60.0))
            .with(&[
                &[k(-62, 400), k(4, 385)],
                &[k(-58, 455), k(8, 440)],
                &[k(-54, 510), k(12, 495)],
            ]),
        tube("second-arm", 24, Tone::Body, 46.0, &[k(0, 220), k(300, 230)]).right(),
        solid(
            "carburettors",
            30,
            Tone::Body,
            &[k(250, 440), k(330, 440), k(330, 510), k(250, 510)],
        ),
        solid(
            "airbox",
            31,
            Tone::Body,
            &[s(-80, 380), s(-80, 490), s(170, 500), s(200, 400)],
        )
        .left(),
        solid(
            "radiator",
            46,
            Tone::Metal,
            &[k(1040, 420), k(1075, 430), k(1085, 620), k(1050, 620)],
        ),
    ]
}

/// The belt drive, on the left.
fn drive() -> Vec<Form> {
    let mut out = vec![
        solid(
            "belt-cover",
            44,
            Tone::Body,
            &[
                s(-130, 220),
                s(-70, 330),
                s(180, 390),
                s(370, 390),
                s(430, 290),
                s(340, 205),
                s(100, 160),
                s(-70, 140),
            ],
        )
        .left()
        .with(&[&[s(-40, 240), s(160, 300), s(340, 300)]]),
        tube(
            "kick-lever",
            46,
            Tone::Body,
            22.0,
            &[k(230, 260), s(120, 200), k(30, 130)],
        )
        .left(),
        tube("drive-belt", 35, Tone::Dark, 16.0, &[k(0, 300), k(330, 345)])
            .and(Shape::Tube(vec![k(0, 145), k(330, 250)], 16.0))
            .left(),
        disc("clutch-bell", 37, Tone::Body, (0.0, 222.0), 74.0).left(),
        disc("clutch", 36, Tone::Metal, (0.0, 222.0), 50.0).left(),
        disc("variator-face", 37, Tone::Body, (330.0, 298.0), 56.0).left(),
        disc("variator", 36, Tone::Metal, (330.0, 298.0), 40.0).left(),
        line("rear-cable-end", 25, &[k(-30, 150), k(60, 130)]).left(),
        line(
            "rear-brake-cable",
            22,
            &[s(60, 130), s(400, 230), s(900, 300), s(960, 700), s(930, 1060)],
        )
        .left(),
    ];
    out.extend(signs(45, Shown::Left, &[("belt-filter", 180, 350)]));
    out
}

fn hidden() -> Vec<Form> {
    let mut out = vec![
        solid(
            "tank",
            30,
            Tone::Body,
            &[
                k(480, 430),
                k(540, 400),
                k(560, 640),
                s(480, 690),
                k(330, 660),
                k(370, 500),
            ],
        ),
        solid(
            "battery",
            45,
            Tone::Body,
            &[k(690, 300), k(810, 300), k(810, 385), k(690, 385)],
        ),
        line(
            "radiator-hoses",
            44,
            &[s(1050, 430), s(960, 300), s(600, 250), s(470, 300)],
        ),
    ];
    out.extend(signs(
        31,
        Shown::Both,
        &[
            ("fuel-tap", 430, 440),
            ("auto-choke", 290, 525),
            ("inlet-boots", 345, 425),
            ("ignition-coils", 420, 480),
            ("spark-plugs", 480, 390),
            ("thermostat", 400, 410),
            ("starter-motor", 130, 400),
        ],
    ));
    out.extend(signs(
        45,
        Shown::Both,
        &[
            ("horn", 1085, 500),
            ("coolant-bottle", 1065, 700),
            ("regulator", 1060, 770),
        ],
    ));
    out.extend(signs(32, Shown::Left, &[("air-filter", 60, 440)]));
    out.extend(signs(28, Shown::Right, &[("oil-strainer", 180, 190)]));
    out
}

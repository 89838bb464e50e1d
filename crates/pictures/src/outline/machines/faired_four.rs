//! Faired four: full fairing, four pipes sweeping down in front, short high tail, twin lamps.

use super::super::drawing::Drawing;
use super::super::form::{Form, Shown, Tone, disc, line, solid, tube};
use super::super::skeleton::{Skeleton, Wheel, signs};
use crate::geometry::{Bounds, Shape, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1420.0,
    front_radius: 300.0,
    rear_radius: 315.0,
    front_tyre: 58.0,
    rear_tyre: 84.0,
    wheel: Wheel::Cast(3),
    front_disc: 158.0,
    rear_disc: 108.0,
    rake: 24.0,
    fork: 660.0,
    bottom_yoke: 520.0,
    sliders: 260.0,
    fork_width: 56.0,
    upside_down: true,
    pivot: (520.0, 400.0),
    swingarm_width: 84.0,
    sprocket: (600.0, 400.0, 38.0),
    rear_sprocket: 100.0,
    mudguard: (14.0, 60.0, 165.0),
    carburettors: (850.0, 690.0),
    front_master: (1130.0, 930.0),
};

pub(super) fn drawing() -> Drawing {
    let mut forms = SKELETON.wheels();
    forms.extend(SKELETON.steering());
    forms.extend(SKELETON.swingarm());
    forms.extend(SKELETON.chain());
    forms.extend(SKELETON.cables((700, 480)));
    forms.extend(body());
    forms.extend(engine());
    forms.extend(hidden());
    Drawing {
        view: Bounds::new(-400.0, -30.0, 1780.0, 1280.0),
        zones: vec![
            ("bars", Bounds::new(840.0, 960.0, 1240.0, 1280.0)),
            ("nose", Bounds::new(1240.0, 760.0, 1780.0, 1280.0)),
            ("fork", Bounds::new(1060.0, 450.0, 1780.0, 760.0)),
            ("front-wheel", Bounds::new(1120.0, -30.0, 1780.0, 450.0)),
            ("tank", Bounds::new(640.0, 660.0, 1060.0, 960.0)),
            ("engine", Bounds::new(560.0, 300.0, 1060.0, 660.0)),
            ("belly", Bounds::new(480.0, -30.0, 1120.0, 300.0)),
            ("seat", Bounds::new(140.0, 600.0, 560.0, 1060.0)),
            ("rear", Bounds::new(-400.0, -30.0, 480.0, 600.0)),
        ],
        forms,
    }
}

/// The flank, cut away in front so that the pipes are seen.
fn side() -> [crate::geometry::Node; 13] {
    [
        k(1490, 770),
        s(1390, 680),
        s(1270, 610),
        k(1165, 565),
        k(1060, 620),
        s(985, 540),
        s(930, 430),
        k(905, 330),
        k(590, 300),
        s(640, 420),
        s(780, 620),
        k(1040, 830),
        s(1240, 850),
    ]
}

fn body() -> Vec<Form> {
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            84.0,
            &[k(1150, 800), s(1000, 760), s(720, 640), k(540, 440)],
        ),
        tube("", 20, Tone::Metal, 34.0, &[k(640, 640), k(60, 850)]),
        solid(
            "tank",
            45,
            Tone::Body,
            &[
                k(1080, 830),
                s(1060, 930),
                s(960, 985),
                s(800, 965),
                s(690, 880),
                k(610, 800),
                k(640, 750),
                s(800, 690),
                k(960, 700),
            ],
        )
        .with(&[&[s(1040, 860), s(860, 800), s(700, 800)]]),
        solid(
            "seat",
            46,
            Tone::Dark,
            &[
                k(640, 850),
                s(540, 815),
                s(400, 820),
                k(270, 880),
                k(250, 820),
                s(440, 750),
                k(640, 755),
            ],
        ),
        solid(
            "pillion-seat",
            48,
            Tone::Dark,
            &[
                k(275, 905),
                s(180, 960),
                s(10, 1000),
                k(-110, 1010),
                k(-120, 975),
                s(60, 930),
                k(265, 860),
            ],
        ),
        solid(
            "tail-fairing",
            47,
            Tone::Body,
            &[
                k(460, 745),
                k(275, 870),
                s(60, 935),
                k(-150, 985),
                k(-215, 985),
                s(-150, 900),
                s(80, 790),
                k(330, 660),
            ],
        )
        .with(&[&[s(300, 780), s(120, 850), s(-120, 940)]]),
        solid(
            "side-cover-right",
            44,
            Tone::Body,
            &[k(560, 740), k(380, 740), k(400, 610), k(510, 560)],
        )
        .right(),
        solid(
            "side-cover-left",
            44,
            Tone::Body,
            &[k(560, 740), k(380, 740), k(400, 610), k(510, 560)],
        )
        .left(),
        solid(
            "rear-light",
            49,
            Tone::Metal,
            &[k(-165, 975), k(-225, 975), s(-190, 920), k(-120, 925)],
        ),
        disc("indicators-rear", 50, Tone::Body, (-90.0, 815.0), 28.0),
        tube("", 40, Tone::Open, 18.0, &[k(-60, 860), k(-190, 640)]),
        solid(
            "upper-cowl",
            52,
            Tone::Body,
            &[
                k(1560, 800),
                s(1545, 860),
                s(1460, 935),
                k(1330, 985),
                k(1190, 920),
                s(1060, 850),
                s(1240, 830),
                k(1440, 790),
            ],
        ),
        solid(
            "screen",
            51,
            Tone::Open,
            &[
                k(1335, 985),
                s(1280, 1060),
                s(1180, 1095),
                k(1110, 1090),
                s(1140, 1010),
                k(1195, 925),
            ],
        )
        .with(&[&[s(1200, 960), s(1230, 1040), s(1180, 1085)]]),
        solid(
            "headlight",
            53,
            Tone::Metal,
            &[
                k(1545, 815),
                s(1520, 868),
                s(1430, 880),
                k(1370, 862),
                s(1450, 830),
            ],
        )
        .with(&[&[k(1455, 878), k(1465, 826)]]),
        solid("fairing-right", 50, Tone::Body, &side())
            .with(&[
                &[s(1350, 740), s(1140, 690), s(860, 560), s(700, 380)],
                &[k(800, 420), k(880, 470)],
                &[k(810, 380), k(880, 425)],
            ])
            .right(),
        solid("fairing-left", 50, Tone::Body, &side())
            .with(&[
                &[s(1350, 740), s(1140, 690), s(860, 560), s(700, 380)],
                &[k(800, 420), k(880, 470)],
                &[k(810, 380), k(880, 425)],
            ])
            .left(),
        disc("indicator-front-right", 54, Tone::Body, (1330.0, 720.0), 28.0).right(),
        disc("indicator-front-left", 54, Tone::Body, (1330.0, 720.0), 28.0).left(),
        solid(
            "lower-fairing",
            49,
            Tone::Body,
            &[
                k(585, 298),
                k(905, 330),
                s(910, 250),
                s(830, 170),
                s(680, 160),
                k(560, 195),
            ],
        )
        .with(&[&[s(620, 225), s(740, 220), s(860, 275)]]),
        tube("mirrors", 57, Tone::Body, 16.0, &[k(1250, 960), k(1200, 1060)]).and(Shape::Closed(vec![
            s(1105, 1120),
            s(1230, 1095),
            s(1235, 1150),
            s(1120, 1170),
        ])),
        solid(
            "instruments",
            48,
            Tone::Dark,
            &[k(1200, 940), k(1280, 975), k(1250, 1010), k(1180, 975)],
        ),
        tube(
            "handlebars",
            56,
            Tone::Metal,
            26.0,
            &[k(1150, 890), s(1120, 915), k(1010, 875)],
        )
        .and(Shape::Tube(vec![k(1090, 905), k(980, 865)], 44.0)),
        solid(
            "front-master",
            58,
            Tone::Body,
            &[k(1090, 925), k(1145, 935), k(1140, 985), k(1085, 975)],
        )
        .right(),
        solid(
            "clutch-master",
            58,
            Tone::Body,
            &[k(1090, 925), k(1145, 935), k(1140, 985), k(1085, 975)],
        )
        .left(),
        tube(
            "steering-damper",
            47,
            Tone::Metal,
            26.0,
            &[k(1180, 800), k(1080, 760)],
        ),
        tube(
            "side-stand-leg",
            39,
            Tone::Body,
            26.0,
            &[k(600, 260), k(400, 140)],
        )
        .left(),
        tube(
            "",
            43,
            Tone::Metal,
            20.0,
            &[k(560, 420), k(490, 330), k(540, 330)],
        ),
        solid(
            "rear-master",
            44,
            Tone::Body,
            &[k(520, 330), k(560, 335), k(545, 430), k(505, 425)],
        )
        .right(),
        line("ram-air-tubes", 46, &[s(1400, 800), s(1200, 780), s(1000, 770)])
            .and(Shape::Tube(vec![s(1400, 800), s(1200, 780), s(1000, 770)], 40.0)),
    ]
}

fn engine() -> Vec<Form> {
    let mut out = vec![
        solid(
            "",
            30,
            Tone::Metal,
            &[
                s(600, 320),
                s(590, 470),
                s(700, 540),
                s(880, 540),
                s(970, 470),
                s(965, 340),
                s(880, 260),
                s(680, 250),
            ],
        ),
        solid(
            "",
            29,
            Tone::Body,
            &[k(790, 520), k(870, 680), k(1040, 610), k(955, 450)],
        ),
        solid(
            "valve-cover",
            31,
            Tone::Body,
            &[k(870, 684), s(905, 725), s(990, 710), s(1055, 660), k(1042, 612)],
        ),
        disc("clutch-cover", 33, Tone::Body, (720.0, 390.0), 96.0)
            .right()
            .detail(Shape::Disc {
                x: 720.0,
                y: 390.0,
                r: 66.0,
            }),
        solid(
            "sprocket-cover",
            36,
            Tone::Body,
            &[s(545, 340), s(545, 460), s(670, 470), s(680, 350)],
        )
        .left(),
        solid(
            "radiator",
            37,
            Tone::Metal,
            &[k(1010, 400), k(1050, 385), k(1120, 640), k(1080, 655)],
        )
        .with(&[
            &[k(1020, 445), k(1062, 430)],
            &[k(1034, 495), k(1076, 480)],
            &[k(1048, 545), k(1090, 530)],
            &[k(1062, 595), k(1104, 580)],
        ]),
        solid(
            "oil-cooler",
            37,
            Tone::Metal,
            &[k(985, 285), k(1020, 278), k(1040, 365), k(1005, 372)],
        ),
        tube(
            "silencer",
            42,
            Tone::Body,
            122.0,
            &[k(330, 340), s(270, 370), k(-110, 560)],
        )
        .right()
        .with(&[&[k(185, 345), k(240, 455)]]),
        solid(
            "airbox",
            26,
            Tone::Body,
            &[k(760, 750), k(980, 750), k(1000, 850), k(780, 850)],
        ),
        solid(
            "carburettors",
            27,
            Tone::Body,
            &[k(820, 660), k(900, 690), k(880, 745), k(800, 720)],
        ),
    ];
    // Four pipes, drawn one behind the other as they sweep from the head down and back.
    let mut pipes = tube(
        "exhaust",
        40,
        Tone::Metal,
        34.0,
        &[
            k(1020, 600),
            s(1080, 540),
            s(1060, 400),
            s(960, 250),
            s(800, 195),
            k(560, 200),
        ],
    )
    .and(Shape::Tube(vec![k(560, 205), s(420, 240), k(320, 345)], 60.0));
    for step in 1..4_i32 {
        pipes = pipes.and(Shape::Tube(
            vec![
                k(1010 - 14 * step, 590 + 4 * step),
                s(1080 - 36 * step, 540 - 6 * step),
                s(1060 - 40 * step, 400),
                s(960 - 34 * step, 268 + 6 * step),
                k(800 - 20 * step, 212 + 4 * step),
            ],
            34.0,
        ));
    }
    out.push(pipes);
    out
}

fn hidden() -> Vec<Form> {
    let mut out = vec![
        solid(
            "battery",
            27,
            Tone::Body,
            &[k(420, 640), k(530, 640), k(530, 735), k(420, 735)],
        ),
        solid(
            "air-filter",
            28,
            Tone::Dark,
            &[k(830, 780), k(930, 780), k(930, 825), k(830, 825)],
        ),
        tube("shock", 23, Tone::Body, 60.0, &[k(470, 400), k(540, 640)]),
        line("radiator-hoses", 36, &[s(1090, 640), s(1040, 690), s(960, 680)]),
        line("clutch-hose", 31, &[s(1090, 930), s(1000, 700), s(640, 430)]).left(),
    ];
    out.extend(signs(
        44,
        Shown::Both,
        &[
            ("tank-bolts", 660, 770),
            ("fuel-tap", 720, 740),
            ("fuel-pump", 800, 760),
            ("ignition-coils", 1000, 790),
            ("regulator", 300, 740),
        ],
    ));
    out.extend(signs(
        32,
        Shown::Both,
        &[
            ("spark-plugs", 930, 690),
            ("injectors", 880, 730),
            ("inlet-boots", 880, 660),
            ("thermostat", 975, 690),
            ("starter-motor", 800, 550),
            ("cam-chain-tensioner", 830, 620),
            ("shock-link", 470, 330),
        ],
    ));
    out.extend(signs(
        35,
        Shown::Right,
        &[("timing-plugs", 880, 390), ("coolant-bottle", 620, 540)],
    ));
    out.extend(signs(35, Shown::Both, &[("oil-filter", 960, 330)]));
    out.extend(signs(32, Shown::Right, &[("clutch-plates", 720, 390)]));
    out.extend(signs(
        37,
        Shown::Left,
        &[("clutch-slave", 640, 430), ("gear-lever", 640, 320)],
    ));
    out
}

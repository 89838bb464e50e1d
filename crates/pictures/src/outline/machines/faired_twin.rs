//! Small faired twin: a full fairing down to the belly, one screen, a stepped seat.

use super::super::drawing::Drawing;
use super::super::form::{Form, Shown, Tone, disc, line, solid, tube};
use super::super::skeleton::{Skeleton, Wheel, signs};
use crate::geometry::{Bounds, Shape, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1400.0,
    front_radius: 300.0,
    rear_radius: 305.0,
    front_tyre: 58.0,
    rear_tyre: 66.0,
    wheel: Wheel::Cast(6),
    front_disc: 140.0,
    rear_disc: 108.0,
    rake: 26.0,
    fork: 700.0,
    bottom_yoke: 550.0,
    sliders: 320.0,
    fork_width: 50.0,
    upside_down: false,
    pivot: (500.0, 360.0),
    swingarm_width: 54.0,
    sprocket: (570.0, 360.0, 38.0),
    rear_sprocket: 100.0,
    mudguard: (16.0, 48.0, 168.0),
    carburettors: (690.0, 640.0),
    front_master: (1040.0, 1040.0),
};

pub(super) fn drawing() -> Drawing {
    let mut forms = SKELETON.wheels();
    forms.extend(SKELETON.steering());
    forms.extend(SKELETON.swingarm());
    forms.extend(SKELETON.chain());
    forms.extend(SKELETON.cables((640, 450)));
    forms.extend(body());
    forms.extend(engine());
    forms.extend(hidden());
    Drawing {
        view: Bounds::new(-420.0, -30.0, 1750.0, 1350.0),
        zones: vec![
            ("bars", Bounds::new(760.0, 1010.0, 1090.0, 1350.0)),
            ("nose", Bounds::new(1090.0, 730.0, 1750.0, 1350.0)),
            ("fork", Bounds::new(1090.0, 430.0, 1750.0, 730.0)),
            ("front-wheel", Bounds::new(1090.0, -30.0, 1750.0, 430.0)),
            ("tank", Bounds::new(620.0, 700.0, 1090.0, 1010.0)),
            ("engine", Bounds::new(520.0, 290.0, 1090.0, 700.0)),
            ("belly", Bounds::new(430.0, -30.0, 1090.0, 290.0)),
            ("seat", Bounds::new(120.0, 640.0, 520.0, 1090.0)),
            ("rear", Bounds::new(-420.0, -30.0, 430.0, 640.0)),
        ],
        forms,
    }
}

fn body() -> Vec<Form> {
    let side = [
        k(1330, 760),
        s(1290, 620),
        s(1180, 480),
        s(1090, 380),
        k(1030, 330),
        k(560, 330),
        s(590, 420),
        s(700, 560),
        s(860, 690),
        k(1010, 800),
        s(1150, 850),
    ];
    let flank = |part| {
        solid(part, 50, Tone::Body, &side).with(&[
            &[s(1240, 720), s(1060, 600), s(740, 460), s(600, 400)],
            &[k(860, 520), k(980, 590)],
            &[k(880, 480), k(1000, 550)],
            &[k(900, 440), k(1020, 510)],
        ])
    };
    let cover = [k(560, 730), k(330, 730), s(380, 610), k(470, 560), k(540, 600)];
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            44.0,
            &[k(1110, 860), s(880, 770), s(640, 680), s(540, 560), k(490, 330)],
        ),
        tube("", 20, Tone::Metal, 34.0, &[k(620, 680), k(0, 800)]),
        solid(
            "tank",
            46,
            Tone::Body,
            &[
                k(1030, 830),
                s(1040, 900),
                s(990, 965),
                s(860, 985),
                s(730, 930),
                k(620, 825),
                k(610, 760),
                s(780, 735),
            ],
        )
        .with(&[&[s(1020, 870), s(860, 800), s(660, 790)]]),
        // Rider low, passenger a step up.
        solid(
            "seat",
            47,
            Tone::Dark,
            &[
                k(640, 848),
                s(560, 805),
                s(420, 795),
                s(330, 815),
                k(285, 885),
                s(160, 905),
                s(0, 905),
                k(-60, 890),
                k(-50, 845),
                s(120, 825),
                s(300, 745),
                k(620, 760),
            ],
        ),
        solid(
            "tail-fairing",
            45,
            Tone::Body,
            &[
                k(600, 745),
                s(360, 755),
                s(120, 845),
                k(-110, 890),
                s(-230, 870),
                k(-260, 800),
                s(-120, 760),
                s(120, 690),
                k(400, 660),
            ],
        )
        .with(&[&[s(380, 710), s(140, 770), s(-220, 845)]]),
        solid("side-cover-right", 44, Tone::Body, &cover).right(),
        solid("side-cover-left", 44, Tone::Body, &cover).left(),
        solid(
            "rear-light",
            48,
            Tone::Metal,
            &[k(-180, 868), s(-245, 865), k(-265, 805), k(-195, 800)],
        ),
        disc("indicators-rear", 49, Tone::Body, (-170.0, 725.0), 30.0),
        tube("", 40, Tone::Open, 20.0, &[k(-160, 780), k(-320, 520)]),
        solid(
            "upper-cowl",
            52,
            Tone::Body,
            &[
                k(1425, 800),
                s(1420, 890),
                s(1360, 960),
                k(1270, 985),
                s(1130, 900),
                k(1010, 820),
                s(1150, 830),
                k(1330, 750),
            ],
        ),
        // One tall screen.
        solid(
            "screen",
            51,
            Tone::Open,
            &[
                k(1275, 985),
                s(1240, 1090),
                s(1170, 1180),
                k(1090, 1230),
                s(1080, 1160),
                s(1100, 1010),
                k(1140, 905),
            ],
        )
        .with(&[&[s(1150, 960), s(1160, 1060), s(1110, 1190)]]),
        solid(
            "headlight",
            53,
            Tone::Metal,
            &[k(1418, 815), s(1412, 885), k(1340, 925), k(1330, 820)],
        )
        .detail(Shape::Open(vec![s(1360, 830), s(1372, 870), s(1362, 908)])),
        flank("fairing-right").right(),
        flank("fairing-left").left(),
        disc("indicator-front-right", 54, Tone::Body, (1210.0, 770.0), 30.0).right(),
        disc("indicator-front-left", 54, Tone::Body, (1210.0, 770.0), 30.0).left(),
        solid(
            "lower-fairing",
            51,
            Tone::Body,
            &[
                k(1035, 332),
                s(1010, 250),
                s(930, 180),
                s(700, 165),
                k(560, 200),
                k(545, 328),
            ],
        )
        .with(&[&[s(600, 240), s(800, 225), s(980, 300)]]),
        tube(
            "mirrors",
            57,
            Tone::Body,
            16.0,
            &[k(1120, 930), s(1090, 1010), k(1060, 1080)],
        )
        .and(Shape::Closed(vec![
            s(960, 1090),
            s(1090, 1070),
            s(1095, 1130),
            s(975, 1150),
        ])),
        solid(
            "instruments",
            48,
            Tone::Dark,
            &[k(1120, 960), k(1210, 975), k(1190, 1030), k(1110, 1010)],
        ),
        tube(
            "handlebars",
            56,
            Tone::Metal,
            26.0,
            &[k(1095, 925), s(1080, 1000), s(1030, 1015), k(920, 985)],
        )
        .and(Shape::Tube(vec![k(1000, 1008), k(890, 977)], 44.0)),
        solid(
            "front-master",
            58,
            Tone::Body,
            &[k(1005, 1030), k(1060, 1040), k(1055, 1085), k(1000, 1075)],
        )
        .right(),
        tube(
            "side-stand-leg",
            39,
            Tone::Body,
            26.0,
            &[k(590, 260), k(380, 140)],
        )
        .left(),
        tube(
            "",
            43,
            Tone::Metal,
            22.0,
            &[k(560, 400), k(470, 310), k(540, 305)],
        ),
        solid(
            "rear-master",
            43,
            Tone::Body,
            &[k(505, 330), k(545, 335), k(530, 430), k(490, 425)],
        )
        .right(),
        tube("gear-lever", 44, Tone::Body, 20.0, &[k(600, 310), k(700, 320)]).left(),
    ]
}

fn engine() -> Vec<Form> {
    vec![
        solid(
            "",
            30,
            Tone::Metal,
            &[
                s(560, 310),
                s(555, 440),
                s(650, 500),
                s(830, 510),
                s(920, 440),
                s(915, 310),
                s(830, 240),
                s(650, 235),
            ],
        ),
        solid(
            "",
            29,
            Tone::Body,
            &[k(740, 490), k(790, 650), k(960, 600), k(900, 430)],
        ),
        solid(
            "valve-cover",
            31,
            Tone::Body,
            &[k(790, 654), s(820, 700), s(900, 690), s(970, 650), k(962, 602)],
        ),
        disc("clutch-cover", 33, Tone::Body, (680.0, 375.0), 92.0)
            .right()
            .detail(Shape::Disc {
                x: 680.0,
                y: 375.0,
                r: 64.0,
            }),
        solid(
            "sprocket-cover",
            36,
            Tone::Body,
            &[s(515, 310), s(515, 425), s(630, 430), s(640, 320)],
        )
        .left(),
        solid(
            "radiator",
            37,
            Tone::Metal,
            &[k(985, 380), k(1025, 365), k(1095, 610), k(1055, 622)],
        )
        .with(&[
            &[k(996, 425), k(1038, 410)],
            &[k(1010, 475), k(1052, 460)],
            &[k(1024, 525), k(1066, 510)],
            &[k(1038, 575), k(1080, 560)],
        ]),
        tube(
            "exhaust",
            40,
            Tone::Metal,
            44.0,
            &[
                k(945, 580),
                s(1020, 520),
                s(1000, 380),
                s(930, 240),
                s(780, 190),
                s(520, 195),
                k(420, 240),
            ],
        ),
        // Long and straight.
        tube(
            "silencer",
            42,
            Tone::Body,
            100.0,
            &[k(470, 225), s(410, 245), k(-230, 345)],
        )
        .right()
        .with(&[&[k(330, 205), k(348, 305)]]),
        solid(
            "carburettors",
            27,
            Tone::Body,
            &[k(650, 600), k(740, 620), k(725, 690), k(635, 670)],
        ),
        tube("inlet-boots", 28, Tone::Dark, 44.0, &[k(735, 650), k(800, 640)]),
        solid(
            "airbox",
            26,
            Tone::Body,
            &[k(560, 640), k(650, 660), k(700, 740), k(580, 745)],
        )
        .and(Shape::Closed(vec![
            k(590, 745),
            k(840, 745),
            k(850, 800),
            k(600, 800),
        ])),
    ]
}

fn hidden() -> Vec<Form> {
    let mut out = vec![
        solid(
            "battery",
            27,
            Tone::Body,
            &[k(400, 640), k(520, 640), k(520, 738), k(400, 738)],
        ),
        solid(
            "air-filter",
            28,
            Tone::Dark,
            &[k(660, 752), k(790, 752), k(790, 792), k(660, 792)],
        ),
        line("radiator-hoses", 36, &[s(1060, 610), s(1010, 660), s(920, 660)]),
    ];
    out.extend(signs(
        44,
        Shown::Both,
        &[
            ("fuel-tap", 700, 755),
            ("ignition-coils", 920, 780),
            ("regulator", 230, 760),
        ],
    ));
    out.extend(signs(
        32,
        Shown::Both,
        &[
            ("spark-plugs", 880, 690),
            ("thermostat", 960, 670),
            ("starter-motor", 760, 525),
            ("shock-link", 440, 320),
        ],
    ));
    out.extend(signs(
        35,
        Shown::Right,
        &[("timing-plugs", 830, 375), ("coolant-bottle", 560, 540)],
    ));
    out.extend(signs(36, Shown::Both, &[("oil-filter", 915, 340)]));
    out.extend(signs(32, Shown::Right, &[("clutch-plates", 680, 375)]));
    out
}

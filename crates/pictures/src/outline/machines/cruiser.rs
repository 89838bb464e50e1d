//! Cruiser twin: long and low, cylinders in a V, teardrop tank, feet forward, a broad rear mudguard.

use super::super::drawing::Drawing;
use super::super::form::{Form, Shown, Tone, disc, line, solid, tube};
use super::super::skeleton::{Skeleton, Wheel, signs};
use crate::geometry::{Bounds, Shape, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1630.0,
    front_radius: 335.0,
    rear_radius: 315.0,
    front_tyre: 66.0,
    rear_tyre: 108.0,
    wheel: Wheel::Wire,
    front_disc: 140.0,
    rear_disc: 118.0,
    rake: 33.0,
    fork: 800.0,
    bottom_yoke: 640.0,
    sliders: 400.0,
    fork_width: 54.0,
    upside_down: false,
    pivot: (500.0, 330.0),
    swingarm_width: 54.0,
    sprocket: (600.0, 335.0, 60.0),
    rear_sprocket: 112.0,
    mudguard: (20.0, 38.0, 172.0),
    carburettors: (800.0, 670.0),
    front_master: (1060.0, 1130.0),
};

pub(super) fn drawing() -> Drawing {
    let mut forms = SKELETON.wheels();
    forms.extend(SKELETON.steering());
    forms.extend(SKELETON.swingarm());
    forms.extend(SKELETON.chain());
    forms.extend(SKELETON.cables((720, 470)));
    forms.extend(body());
    forms.extend(cylinders());
    forms.extend(engine());
    forms.extend(hidden());
    Drawing {
        view: Bounds::new(-460.0, -30.0, 2020.0, 1340.0),
        zones: vec![
            ("bars", Bounds::new(820.0, 1010.0, 2020.0, 1340.0)),
            ("nose", Bounds::new(1190.0, 680.0, 2020.0, 1010.0)),
            ("front-wheel", Bounds::new(1530.0, -30.0, 2020.0, 680.0)),
            ("fork", Bounds::new(1190.0, 330.0, 1530.0, 680.0)),
            ("tank", Bounds::new(790.0, 680.0, 1190.0, 1010.0)),
            ("engine", Bounds::new(590.0, 330.0, 1190.0, 680.0)),
            ("belly", Bounds::new(430.0, -30.0, 1530.0, 330.0)),
            ("seat", Bounds::new(240.0, 330.0, 590.0, 1010.0)),
            ("rear", Bounds::new(-460.0, -30.0, 240.0, 1010.0)),
        ],
        forms,
    }
}

fn body() -> Vec<Form> {
    let cover = [
        k(610, 690),
        k(405, 690),
        s(400, 560),
        s(440, 480),
        s(560, 480),
        k(600, 560),
    ];
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            38.0,
            &[k(1240, 940), s(1010, 850), s(740, 760), s(500, 640), k(330, 640)],
        ),
        tube(
            "",
            20,
            Tone::Metal,
            38.0,
            &[
                k(1240, 900),
                s(1150, 640),
                s(1080, 330),
                s(980, 210),
                s(560, 205),
                s(480, 330),
                k(520, 660),
            ],
        ),
        solid(
            "tank",
            45,
            Tone::Body,
            &[
                k(1190, 880),
                s(1208, 925),
                s(1160, 978),
                s(1040, 985),
                s(880, 925),
                k(690, 800),
                s(760, 770),
                s(980, 790),
            ],
        )
        .with(&[&[s(1180, 905), s(1020, 860), s(800, 812)]]),
        solid(
            "tank-console",
            46,
            Tone::Metal,
            &[
                s(1010, 990),
                s(1090, 1004),
                s(1130, 990),
                s(1000, 958),
                s(850, 905),
                s(830, 920),
            ],
        ),
        solid(
            "tank-trim",
            46,
            Tone::Metal,
            &[
                s(1010, 990),
                s(1090, 1004),
                s(1130, 990),
                s(1000, 958),
                s(850, 905),
                s(830, 920),
            ],
        ),
        disc("instruments", 47, Tone::Body, (1085.0, 1010.0), 44.0),
        solid(
            "seat",
            47,
            Tone::Dark,
            &[
                k(735, 825),
                s(650, 742),
                s(540, 718),
                s(430, 745),
                s(350, 815),
                s(180, 835),
                s(60, 815),
                k(50, 770),
                s(250, 740),
                s(360, 680),
                k(640, 690),
                s(700, 740),
            ],
        ),
        solid("side-cover-right", 44, Tone::Body, &cover).right(),
        solid("side-cover-left", 44, Tone::Body, &cover).left(),
        solid(
            "rear-mudguard",
            43,
            Tone::Body,
            &[
                k(330, 690),
                s(180, 760),
                s(0, 775),
                s(-200, 715),
                s(-350, 570),
                k(-420, 380),
                k(-350, 345),
                s(-300, 470),
                s(-170, 570),
                s(0, 600),
                s(160, 570),
                k(290, 480),
            ],
        )
        .with(&[&[s(-395, 400), s(-330, 530), s(-190, 650), s(0, 700), s(200, 680)]]),
        solid(
            "rear-light",
            46,
            Tone::Metal,
            &[
                s(-345, 640),
                s(-405, 600),
                s(-420, 530),
                k(-375, 520),
                k(-315, 600),
            ],
        ),
        disc("indicators-rear", 48, Tone::Body, (-290.0, 690.0), 32.0),
        solid(
            "saddlebags",
            50,
            Tone::Body,
            &[
                s(-270, 380),
                s(-300, 560),
                s(-250, 600),
                s(110, 600),
                s(150, 560),
                s(120, 380),
                s(0, 350),
            ],
        )
        .with(&[&[k(-290, 520), k(145, 520)]]),
        tube(
            "backrest",
            49,
            Tone::Metal,
            22.0,
            &[k(110, 760), s(30, 900), k(0, 1080)],
        )
        .and(Shape::Closed(vec![
            k(30, 930),
            k(60, 945),
            s(30, 1070),
            k(-5, 1060),
        ])),
        tube("rear-shocks", 51, Tone::Body, 30.0, &[k(60, 320), k(220, 660)])
            .and(Shape::Tube(vec![k(95, 395), k(192, 600)], 66.0))
            .with(&[
                &[k(72, 440), k(148, 420)],
                &[k(100, 495), k(172, 475)],
                &[k(124, 545), k(196, 525)],
            ]),
        disc("headlight", 53, Tone::Body, (1360.0, 905.0), 98.0).detail(Shape::Disc {
            x: 1360.0,
            y: 905.0,
            r: 74.0,
        }),
        disc("indicators-front", 54, Tone::Body, (1330.0, 770.0), 34.0),
        tube(
            "handlebars",
            56,
            Tone::Metal,
            28.0,
            &[
                k(1200, 1010),
                s(1195, 1120),
                s(1110, 1145),
                s(1000, 1110),
                k(900, 1070),
            ],
        )
        .and(Shape::Tube(vec![k(1000, 1110), k(880, 1062)], 46.0)),
        tube(
            "mirrors",
            57,
            Tone::Body,
            14.0,
            &[k(1080, 1145), s(1080, 1200), k(1050, 1230)],
        )
        .and(Shape::Closed(vec![
            s(985, 1225),
            s(1095, 1215),
            s(1110, 1270),
            s(1000, 1285),
        ])),
        solid(
            "front-master",
            58,
            Tone::Body,
            &[k(1040, 1142), k(1098, 1154), k(1090, 1200), k(1032, 1188)],
        )
        .right(),
        solid(
            "forward-control-right",
            52,
            Tone::Body,
            &[k(1010, 250), k(1200, 300), k(1215, 270), k(1040, 215)],
        )
        .and(Shape::Tube(vec![k(1150, 285), k(1230, 290)], 42.0))
        .right(),
        solid(
            "forward-control-left",
            52,
            Tone::Body,
            &[k(1010, 250), k(1200, 300), k(1215, 270), k(1040, 215)],
        )
        .and(Shape::Tube(vec![k(1150, 285), k(1230, 290)], 42.0))
        .left(),
        tube(
            "rear-brake-pedal",
            53,
            Tone::Body,
            20.0,
            &[k(1170, 300), s(1240, 320), k(1290, 380)],
        )
        .right(),
        line("rear-brake-rod", 41, &[k(20, 240), k(1000, 232)]).right(),
        tube(
            "side-stand-leg",
            39,
            Tone::Body,
            26.0,
            &[k(820, 205), k(560, 110)],
        )
        .left(),
        solid(
            "rear-master",
            43,
            Tone::Body,
            &[k(1040, 300), k(1090, 315), k(1080, 390), k(1030, 375)],
        )
        .right(),
    ]
}

/// Two cylinders leaning from one crankshaft.
fn cylinders() -> Vec<Form> {
    vec![
        solid(
            "",
            28,
            Tone::Body,
            &[k(845, 500), k(925, 745), k(1085, 690), k(985, 440)],
        )
        .with(&[
            &[k(848, 560), k(1034, 496)],
            &[k(860, 598), k(1048, 534)],
            &[k(872, 636), k(1062, 570)],
            &[k(884, 674), k(1076, 608)],
            &[k(896, 710), k(1088, 644)],
        ]),
        solid(
            "",
            28,
            Tone::Body,
            &[k(790, 500), k(715, 730), k(560, 680), k(655, 440)],
        )
        .with(&[
            &[k(790, 555), k(606, 494)],
            &[k(778, 592), k(594, 530)],
            &[k(766, 628), k(582, 567)],
            &[k(754, 664), k(570, 604)],
            &[k(742, 700), k(560, 640)],
        ]),
        solid(
            "valve-cover",
            31,
            Tone::Body,
            &[k(925, 748), s(960, 785), s(1040, 770), s(1095, 730), k(1088, 690)],
        ),
        solid(
            "valve-cover-rear",
            31,
            Tone::Body,
            &[k(716, 734), s(680, 768), s(600, 750), s(550, 720), k(558, 680)],
        ),
    ]
}

fn engine() -> Vec<Form> {
    vec![
        solid(
            "",
            30,
            Tone::Metal,
            &[
                s(600, 260),
                s(590, 400),
                s(680, 480),
                s(940, 500),
                s(1020, 410),
                s(1010, 290),
                s(930, 225),
                s(690, 215),
            ],
        ),
        solid(
            "clutch-cover",
            33,
            Tone::Body,
            &[
                s(640, 270),
                s(640, 400),
                s(780, 430),
                s(900, 390),
                s(905, 290),
                s(780, 245),
            ],
        )
        .right()
        .detail(Shape::Disc {
            x: 720.0,
            y: 335.0,
            r: 66.0,
        }),
        solid(
            "sprocket-cover",
            36,
            Tone::Body,
            &[s(530, 260), s(530, 410), s(690, 420), s(700, 270)],
        )
        .left(),
        disc("air-cleaner-cover", 42, Tone::Body, (820.0, 610.0), 92.0)
            .right()
            .detail(Shape::Disc {
                x: 820.0,
                y: 610.0,
                r: 58.0,
            }),
        tube(
            "exhaust",
            40,
            Tone::Metal,
            50.0,
            &[
                k(1060, 620),
                s(1140, 590),
                s(1140, 480),
                s(1060, 250),
                s(940, 170),
                k(560, 165),
            ],
        )
        .right(),
        tube(
            "silencer",
            41,
            Tone::Body,
            84.0,
            &[k(620, 165), s(540, 165), k(-360, 175)],
        )
        .right(),
        tube(
            "exhaust-rear",
            40,
            Tone::Metal,
            50.0,
            &[k(580, 610), s(520, 560), s(540, 420), s(520, 300), k(400, 270)],
        )
        .right(),
        tube(
            "silencer-rear",
            41,
            Tone::Body,
            84.0,
            &[k(440, 272), s(400, 268), k(-330, 280)],
        )
        .right(),
        solid(
            "heat-shields",
            43,
            Tone::Body,
            &[
                s(1100, 480),
                s(1060, 330),
                s(1100, 330),
                s(1150, 450),
                s(1160, 560),
                s(1120, 580),
            ],
        )
        .right(),
        solid(
            "radiator",
            36,
            Tone::Metal,
            &[k(1075, 300), k(1130, 285), k(1195, 590), k(1140, 600)],
        ),
        solid(
            "radiator-cover",
            37,
            Tone::Body,
            &[k(1100, 285), k(1145, 275), k(1212, 600), k(1165, 610)],
        ),
        solid(
            "airbox",
            26,
            Tone::Body,
            &[k(760, 690), k(880, 690), k(900, 780), k(740, 780)],
        ),
        solid(
            "carburettors",
            27,
            Tone::Body,
            &[k(785, 640), k(865, 640), k(865, 700), k(785, 700)],
        ),
        solid(
            "final-drive",
            27,
            Tone::Body,
            &[s(-80, 290), s(-60, 390), s(60, 390), s(90, 330), s(40, 250)],
        )
        .left(),
        tube("gear-lever", 48, Tone::Body, 20.0, &[k(700, 300), k(1050, 270)]).left(),
    ]
}

fn hidden() -> Vec<Form> {
    let mut out = vec![
        solid(
            "battery",
            27,
            Tone::Body,
            &[k(440, 520), k(560, 520), k(560, 640), k(440, 640)],
        ),
        line("radiator-hoses", 35, &[s(1170, 570), s(1110, 640), s(1000, 650)]),
    ];
    out.extend(signs(
        60,
        Shown::Right,
        &[("spark-plugs", 1088, 665), ("inner-spark-plugs", 930, 660)],
    ));
    out.extend(signs(
        60,
        Shown::Left,
        &[("spark-plugs", 560, 655), ("inner-spark-plugs", 715, 660)],
    ));
    out.extend(signs(
        44,
        Shown::Both,
        &[
            ("fuel-tap", 840, 775),
            ("fuel-pump", 930, 820),
            ("ignition-coils", 1040, 830),
            ("regulator", 1080, 250),
            ("thermostat", 985, 735),
        ],
    ));
    out.extend(signs(41, Shown::Right, &[("air-filter", 820, 610)]));
    out.extend(signs(
        29,
        Shown::Both,
        &[
            ("injectors", 880, 720),
            ("inlet-boots", 770, 720),
            ("starter-motor", 940, 500),
        ],
    ));
    out.extend(signs(
        35,
        Shown::Right,
        &[("oil-filter", 970, 330), ("timing-plugs", 850, 330)],
    ));
    out.extend(signs(35, Shown::Left, &[("coolant-bottle", 960, 270)]));
    out.extend(signs(32, Shown::Right, &[("clutch-plates", 720, 335)]));
    out
}

//! Naked single: round lamp, upright finned cylinder, air under the tank.

use super::super::drawing::Drawing;
use super::super::form::{Shown, Tone, disc, line, solid, tube};
use super::super::skeleton::{Skeleton, Wheel, signs};
use crate::geometry::{Bounds, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1300.0,
    front_radius: 305.0,
    rear_radius: 305.0,
    front_tyre: 62.0,
    rear_tyre: 66.0,
    wheel: Wheel::Wire,
    front_disc: 132.0,
    rear_disc: 0.0,
    rake: 26.0,
    fork: 735.0,
    bottom_yoke: 590.0,
    sliders: 330.0,
    fork_width: 52.0,
    upside_down: false,
    pivot: (430.0, 345.0),
    swingarm_width: 50.0,
    sprocket: (505.0, 345.0, 42.0),
    rear_sprocket: 96.0,
    mudguard: (22.0, 52.0, 158.0),
    carburettors: (590.0, 615.0),
    front_master: (905.0, 1085.0),
};

pub(super) fn drawing() -> Drawing {
    let k_ = &SKELETON;
    let mut forms = k_.wheels();
    forms.extend(k_.steering());
    forms.extend(k_.swingarm());
    forms.extend(k_.chain());
    forms.extend(k_.cables((560, 440)));
    forms.extend(body());
    forms.extend(engine());
    forms.extend(hidden());
    Drawing {
        view: Bounds::new(-400.0, -30.0, 1660.0, 1300.0),
        zones: vec![
            ("bars", Bounds::new(640.0, 1020.0, 1660.0, 1300.0)),
            ("nose", Bounds::new(960.0, 745.0, 1660.0, 1020.0)),
            ("fork", Bounds::new(960.0, 470.0, 1660.0, 745.0)),
            ("front-wheel", Bounds::new(960.0, -30.0, 1660.0, 470.0)),
            ("tank", Bounds::new(560.0, 745.0, 960.0, 1020.0)),
            ("engine", Bounds::new(460.0, 290.0, 960.0, 745.0)),
            ("belly", Bounds::new(390.0, -30.0, 960.0, 290.0)),
            ("seat", Bounds::new(-400.0, 640.0, 460.0, 1020.0)),
            ("rear", Bounds::new(-400.0, -30.0, 390.0, 640.0)),
        ],
        forms,
    }
}

fn body() -> Vec<super::super::form::Form> {
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            34.0,
            &[k(985, 905), s(760, 800), s(560, 755), k(-20, 750)],
        ),
        tube(
            "",
            20,
            Tone::Metal,
            34.0,
            &[
                k(985, 870),
                s(890, 560),
                s(830, 290),
                s(760, 225),
                s(460, 225),
                s(405, 330),
                k(480, 745),
            ],
        ),
        solid(
            "tank",
            45,
            Tone::Body,
            &[
                k(945, 830),
                s(968, 890),
                s(930, 955),
                s(800, 985),
                s(660, 950),
                k(548, 850),
                k(545, 812),
                s(720, 795),
            ],
        )
        .with(&[&[s(945, 870), s(800, 830), s(560, 830)]])
        .detail(crate::geometry::Shape::Open(vec![
            k(770, 985),
            k(775, 1002),
            k(840, 1002),
            k(845, 982),
        ])),
        solid(
            "seat",
            46,
            Tone::Dark,
            &[
                k(552, 862),
                s(470, 828),
                s(330, 822),
                s(140, 850),
                s(-60, 866),
                s(-120, 840),
                k(-110, 790),
                s(200, 770),
                k(548, 800),
            ],
        ),
        solid(
            "side-cover-right",
            44,
            Tone::Body,
            &[k(535, 770), k(235, 745), s(270, 610), s(380, 545), k(480, 575)],
        )
        .right(),
        solid(
            "side-cover-left",
            44,
            Tone::Body,
            &[k(535, 770), k(235, 745), s(270, 610), s(380, 545), k(480, 575)],
        )
        .left(),
        solid(
            "rear-mudguard",
            21,
            Tone::Body,
            &[
                k(190, 640),
                s(120, 672),
                s(-60, 690),
                s(-220, 610),
                k(-318, 470),
                k(-292, 458),
                s(-195, 565),
                s(-40, 640),
                s(110, 630),
                k(180, 610),
            ],
        ),
        solid(
            "rear-light",
            42,
            Tone::Metal,
            &[k(-235, 690), k(-300, 670), k(-290, 600), k(-225, 610)],
        ),
        disc("indicators-rear", 43, Tone::Body, (-175.0, 705.0), 30.0),
        tube("rear-shocks", 40, Tone::Body, 30.0, &[k(18, 330), k(150, 745)])
            .and(crate::geometry::Shape::Tube(vec![k(48, 425), k(126, 670)], 70.0))
            .with(&[
                &[k(20, 480), k(100, 470)],
                &[k(40, 535), k(118, 522)],
                &[k(58, 590), k(134, 578)],
                &[k(76, 640), k(150, 628)],
            ]),
        disc("headlight", 50, Tone::Body, (1100.0, 905.0), 102.0).detail(crate::geometry::Shape::Disc {
            x: 1100.0,
            y: 905.0,
            r: 78.0,
        }),
        disc("indicators-front", 52, Tone::Body, (1062.0, 772.0), 30.0),
        solid(
            "instruments",
            51,
            Tone::Dark,
            &[s(1000, 1010), s(1065, 1020), s(1060, 1085), s(995, 1075)],
        ),
        tube(
            "handlebars",
            56,
            Tone::Metal,
            26.0,
            &[k(978, 985), s(965, 1060), s(905, 1082), k(770, 1060)],
        )
        .and(crate::geometry::Shape::Tube(
            vec![k(860, 1074), k(740, 1054)],
            42.0,
        )),
        tube(
            "mirrors",
            57,
            Tone::Body,
            14.0,
            &[k(915, 1090), s(930, 1150), k(905, 1190)],
        )
        .and(crate::geometry::Shape::Closed(vec![
            s(840, 1180),
            s(950, 1172),
            s(965, 1225),
            s(860, 1240),
        ])),
        solid(
            "front-master",
            58,
            Tone::Body,
            &[k(890, 1092), k(950, 1086), k(955, 1135), k(895, 1142)],
        )
        .right(),
        line("rear-brake-rod", 41, &[k(30, 250), k(520, 262)]).right(),
        tube(
            "rear-brake-pedal",
            48,
            Tone::Body,
            20.0,
            &[k(500, 262), s(600, 240), k(720, 280)],
        )
        .right(),
        tube("footrests", 49, Tone::Dark, 36.0, &[k(500, 292), k(570, 292)]),
        tube(
            "side-stand-leg",
            39,
            Tone::Body,
            26.0,
            &[k(560, 225), k(330, 165)],
        )
        .left(),
        tube(
            "centre-stand-legs",
            38,
            Tone::Body,
            26.0,
            &[k(470, 225), k(300, 120), k(250, 125)],
        ),
        tube(
            "kick-lever",
            47,
            Tone::Body,
            22.0,
            &[k(520, 350), s(480, 470), k(440, 520)],
        )
        .right(),
        tube("gear-lever", 48, Tone::Body, 20.0, &[k(620, 290), k(740, 300)]).left(),
    ]
}

fn engine() -> Vec<super::super::form::Form> {
    vec![
        solid(
            "",
            30,
            Tone::Metal,
            &[
                s(470, 300),
                s(465, 420),
                s(560, 490),
                s(740, 490),
                s(812, 420),
                s(815, 310),
                s(745, 250),
                s(560, 240),
            ],
        ),
        // The cylinder, fins and all, a little forward of upright.
        solid(
            "",
            29,
            Tone::Body,
            &[k(640, 480), k(628, 690), k(800, 690), k(790, 480)],
        )
        .with(&[
            &[k(600, 520), k(822, 520)],
            &[k(598, 552), k(826, 552)],
            &[k(596, 584), k(828, 584)],
            &[k(594, 616), k(830, 616)],
            &[k(592, 648), k(832, 648)],
            &[k(592, 680), k(834, 680)],
        ]),
        solid(
            "valve-cover",
            31,
            Tone::Body,
            &[k(636, 694), s(650, 740), s(710, 756), s(780, 740), k(796, 694)],
        ),
        disc("clutch-cover", 33, Tone::Body, (598.0, 372.0), 100.0)
            .right()
            .detail(crate::geometry::Shape::Disc {
                x: 598.0,
                y: 372.0,
                r: 70.0,
            }),
        disc("ignition-cover", 34, Tone::Body, (745.0, 372.0), 58.0).right(),
        solid(
            "sprocket-cover",
            36,
            Tone::Body,
            &[s(440, 290), s(440, 420), s(560, 420), s(580, 300)],
        )
        .left(),
        tube(
            "exhaust",
            40,
            Tone::Metal,
            46.0,
            &[
                k(800, 650),
                s(880, 640),
                s(915, 560),
                s(880, 330),
                s(790, 215),
                s(600, 185),
                k(330, 205),
            ],
        ),
        tube(
            "silencer",
            41,
            Tone::Body,
            92.0,
            &[k(400, 202), s(340, 205), k(-270, 300)],
        )
        .right(),
        solid(
            "carburettors",
            27,
            Tone::Body,
            &[k(545, 590), k(610, 590), k(610, 660), k(545, 660)],
        )
        .with(&[&[s(555, 590), s(560, 555), s(598, 555), s(602, 590)]]),
        tube("inlet-boots", 28, Tone::Dark, 46.0, &[k(606, 632), k(642, 640)]),
        solid(
            "airbox",
            26,
            Tone::Body,
            &[k(330, 570), k(530, 570), k(540, 720), k(340, 720)],
        ),
    ]
}

fn hidden() -> Vec<super::super::form::Form> {
    let mut out = vec![
        solid(
            "battery",
            27,
            Tone::Body,
            &[k(300, 620), k(410, 620), k(410, 735), k(300, 735)],
        )
        .with(&[
            &[k(322, 735), k(322, 748), k(342, 748), k(342, 735)],
            &[k(370, 735), k(370, 748), k(390, 748), k(390, 735)],
        ]),
        solid(
            "air-filter",
            28,
            Tone::Dark,
            &[k(440, 600), k(510, 600), k(510, 690), k(440, 690)],
        ),
    ];
    out.extend(signs(60, Shown::Both, &[("spark-plugs", 812, 712)]));
    out.extend(signs(
        44,
        Shown::Both,
        &[
            ("fuel-tap", 640, 790),
            ("ignition-coils", 820, 800),
            ("regulator", 250, 760),
        ],
    ));
    out.extend(signs(
        35,
        Shown::Right,
        &[
            ("timing-plugs", 745, 372),
            ("oil-filter", 680, 290),
            ("oil-screen", 640, 252),
        ],
    ));
    out.extend(signs(32, Shown::Right, &[("clutch-plates", 598, 372)]));
    out.extend(signs(32, Shown::Both, &[("starter-motor", 812, 470)]));
    out
}

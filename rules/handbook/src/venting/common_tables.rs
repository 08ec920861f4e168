//! The tables of vents that several Category I appliances share, in thousands of Btu per hour, as printed.
//!
//! A cell is `p` where a readable printing of it was seen: the 2018 IRC's page 601 in a scan, furnace manuals that print the
//! tables (one for the tables with single-wall connectors, one for the 3 in column of single vents), that page
//! decoded by hand, or the worked examples of IFGC Appendix B. It is `m` where it is from memory; of those in the table of Type B
//! vents up to 20 ft the scan shows at least the leading digits, and they agree. `N` is printed as not recommended or not
//! allowed, `U` is not known here. Heights above 30 ft and diameters above 9 in are not known here at all.

use super::grid::{Cell, Row, row};

const U: Cell = Cell::Unknown;
const N: Cell = Cell::NotRecommended;
const UNKNOWN: [Cell; 3] = [U; 3];

const fn p(thousands: u16) -> Cell {
    Cell::Printed(thousands)
}

const fn m(thousands: u16) -> Cell {
    Cell::Remembered(thousands)
}

/// Type B connectors, by the height of the vent and the rise of the connector.
pub(super) const CONNECTOR_TYPE_B: &[Row] = &[
    row(
        6.0,
        1.0,
        [
            [m(22), m(37), m(26)],
            [m(35), m(66), m(46)],
            [m(46), m(106), m(72)],
            [m(58), m(164), m(104)],
            [m(77), m(225), m(142)],
            [m(92), m(296), m(185)],
            UNKNOWN,
        ],
    ),
    row(
        6.0,
        2.0,
        [
            [m(23), m(41), m(31)],
            [m(37), m(75), m(55)],
            [m(48), m(121), m(86)],
            [m(60), m(183), m(124)],
            [m(79), m(253), m(168)],
            [m(95), m(333), m(220)],
            UNKNOWN,
        ],
    ),
    row(
        6.0,
        3.0,
        [
            [m(24), m(44), m(35)],
            [m(38), m(81), m(62)],
            [m(49), m(132), m(96)],
            [m(62), m(199), m(139)],
            [m(82), m(275), m(189)],
            [m(97), m(363), m(248)],
            UNKNOWN,
        ],
    ),
    row(
        8.0,
        1.0,
        [
            [m(22), m(40), m(27)],
            [m(35), m(72), m(48)],
            [m(49), m(114), m(76)],
            [m(64), m(176), m(109)],
            [m(84), m(243), m(148)],
            [m(100), m(320), m(194)],
            UNKNOWN,
        ],
    ),
    row(
        8.0,
        2.0,
        [
            [m(23), m(44), m(32)],
            [m(36), m(80), m(57)],
            [m(51), m(128), m(90)],
            [m(66), m(195), m(129)],
            [m(86), m(269), m(175)],
            [m(103), m(356), m(230)],
            UNKNOWN,
        ],
    ),
    row(
        8.0,
        3.0,
        [
            [m(24), m(47), m(36)],
            [m(37), m(87), m(64)],
            [m(53), m(139), m(101)],
            [m(67), m(210), m(145)],
            [m(88), m(290), m(198)],
            [m(105), m(384), m(258)],
            UNKNOWN,
        ],
    ),
    row(
        10.0,
        1.0,
        [
            [m(22), m(43), m(28)],
            [m(34), m(78), m(50)],
            [m(49), m(123), m(78)],
            [m(65), m(189), m(113)],
            [m(89), m(257), m(154)],
            [m(106), m(341), m(200)],
            UNKNOWN,
        ],
    ),
    row(
        10.0,
        2.0,
        [
            [m(23), m(47), m(33)],
            [m(36), m(86), m(59)],
            [m(51), m(136), m(93)],
            [m(67), m(206), m(134)],
            [m(91), m(282), m(182)],
            [m(109), m(374), m(238)],
            UNKNOWN,
        ],
    ),
    row(
        10.0,
        3.0,
        [
            [m(24), m(50), m(37)],
            [m(37), m(92), m(67)],
            [m(52), m(146), m(104)],
            [m(69), m(220), m(150)],
            [m(94), m(303), m(205)],
            [m(111), m(402), m(268)],
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        1.0,
        [
            [m(21), m(50), m(30)],
            [m(33), m(89), m(53)],
            [m(47), m(142), m(83)],
            [m(64), m(220), m(120)],
            [m(88), m(298), m(163)],
            [m(110), m(389), m(214)],
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        2.0,
        [
            [m(22), m(53), m(35)],
            [m(35), m(96), m(63)],
            [m(49), m(153), m(99)],
            [m(66), m(235), m(142)],
            [m(91), m(320), m(193)],
            [m(112), m(419), m(253)],
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        3.0,
        [
            [m(24), m(55), m(40)],
            [m(36), m(102), m(71)],
            [m(51), m(163), m(111)],
            [m(68), m(248), m(160)],
            [m(93), m(339), m(218)],
            [m(115), m(445), m(286)],
            UNKNOWN,
        ],
    ),
    row(
        20.0,
        1.0,
        [
            [m(21), m(54), m(31)],
            [m(33), m(99), m(56)],
            [m(46), m(157), m(87)],
            [m(62), m(246), m(125)],
            [m(86), m(334), m(171)],
            [m(107), m(436), m(224)],
            UNKNOWN,
        ],
    ),
    row(
        20.0,
        2.0,
        [
            [m(22), m(57), m(37)],
            [m(34), m(105), m(66)],
            [m(48), m(167), m(104)],
            [m(64), m(259), m(149)],
            [m(89), m(354), m(202)],
            [m(110), m(463), m(265)],
            UNKNOWN,
        ],
    ),
    row(
        20.0,
        3.0,
        [
            [m(23), m(60), m(42)],
            [m(35), m(110), m(74)],
            [m(50), m(176), m(116)],
            [m(66), m(271), m(168)],
            [m(91), m(371), m(228)],
            [m(113), m(486), m(300)],
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        1.0,
        [
            [m(20), m(62), m(33)],
            [m(31), m(113), m(59)],
            [m(45), m(181), m(93)],
            [m(60), m(288), m(134)],
            [m(83), m(391), m(182)],
            [m(103), m(512), m(238)],
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        2.0,
        [
            [m(21), m(64), p(39)],
            [m(33), m(118), p(70)],
            [m(47), m(190), m(110)],
            [m(62), m(299), m(158)],
            [m(85), m(408), m(215)],
            [m(105), m(535), m(282)],
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        3.0,
        [
            [m(22), m(66), m(44)],
            [m(34), m(123), m(79)],
            [m(48), m(198), m(124)],
            [m(64), m(309), m(178)],
            [m(88), m(423), m(242)],
            [m(108), m(555), m(317)],
            UNKNOWN,
        ],
    ),
];

/// Single-wall connectors.
pub(super) const CONNECTOR_SINGLE_WALL: &[Row] = &[
    row(6.0, 1.0, [[N, N, m(26)], [N, N, m(46)], [N, N, m(71)], [N, N, m(102)], [p(207), p(223), m(140)], UNKNOWN, UNKNOWN]),
    row(
        6.0,
        2.0,
        [[N, N, m(31)], [N, N, m(55)], [N, N, m(85)], [p(168), p(182), m(123)], [p(215), p(251), m(167)], UNKNOWN, UNKNOWN],
    ),
    row(
        6.0,
        3.0,
        [
            [N, N, m(34)],
            [N, N, m(62)],
            [p(121), p(131), m(95)],
            [p(174), p(198), m(138)],
            [p(222), p(273), m(188)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        1.0,
        [
            [N, N, m(29)],
            [p(79), p(87), m(52)],
            [p(116), p(138), m(81)],
            [p(177), p(214), m(116)],
            [p(238), p(291), m(158)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        2.0,
        [
            [N, N, m(34)],
            [p(83), p(94), m(62)],
            [p(121), p(150), m(97)],
            [p(185), p(230), m(138)],
            [p(246), p(314), m(189)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        3.0,
        [
            [N, N, m(39)],
            [p(87), p(100), m(70)],
            [p(127), p(160), m(109)],
            [p(193), p(243), m(157)],
            [p(255), p(333), m(215)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        1.0,
        [
            [p(47), p(60), m(31)],
            [p(77), p(110), m(57)],
            [p(113), p(175), m(89)],
            [p(169), p(278), m(129)],
            [p(226), p(380), m(175)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        2.0,
        [
            [p(50), p(62), p(37)],
            [p(81), p(115), p(67)],
            [p(117), p(185), m(106)],
            [p(177), p(290), m(152)],
            [p(236), p(397), m(208)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        3.0,
        [
            [p(54), p(64), m(42)],
            [p(85), p(119), m(76)],
            [p(122), p(193), p(120)],
            [p(185), p(300), p(172)],
            [p(244), p(412), m(235)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
];

/// The common vent with Type B connectors, by height: fan and fan, fan and draft hood, draft hoods alone.
pub(super) const COMMON_TYPE_B: &[Row] = &[
    row(
        6.0,
        0.0,
        [
            UNKNOWN,
            [m(92), m(81), m(65)],
            [m(140), m(116), m(103)],
            [m(204), m(161), m(147)],
            [m(309), m(248), m(200)],
            [m(404), m(314), m(260)],
            UNKNOWN,
        ],
    ),
    row(
        8.0,
        0.0,
        [
            UNKNOWN,
            [m(101), m(90), m(73)],
            [m(155), m(129), m(114)],
            [m(224), m(178), m(163)],
            [m(339), m(275), m(223)],
            [m(444), m(348), m(290)],
            UNKNOWN,
        ],
    ),
    row(
        10.0,
        0.0,
        [
            UNKNOWN,
            [m(110), m(97), m(79)],
            [m(169), m(141), m(124)],
            [m(243), m(194), m(178)],
            [m(367), m(299), m(242)],
            [m(477), m(377), m(315)],
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        0.0,
        [
            UNKNOWN,
            [m(125), m(112), m(91)],
            [m(195), m(164), m(144)],
            [m(283), m(228), m(206)],
            [m(427), m(352), m(280)],
            [m(556), m(444), m(365)],
            UNKNOWN,
        ],
    ),
    row(
        20.0,
        0.0,
        [
            UNKNOWN,
            [m(136), m(123), m(102)],
            [m(215), m(183), m(160)],
            [m(314), m(255), m(229)],
            [m(475), m(394), m(310)],
            [m(621), m(499), m(405)],
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        0.0,
        [
            UNKNOWN,
            [m(152), p(138), m(118)],
            [m(244), p(210), m(185)],
            [m(361), m(297), m(266)],
            [m(547), m(459), m(360)],
            [m(713), m(585), m(465)],
            UNKNOWN,
        ],
    ),
];

/// The common vent with single-wall connectors.
pub(super) const COMMON_SINGLE_WALL: &[Row] = &[
    row(
        6.0,
        0.0,
        [
            UNKNOWN,
            [p(89), p(78), m(64)],
            [p(136), p(113), m(100)],
            [p(200), p(158), m(144)],
            [p(304), p(244), m(196)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        8.0,
        0.0,
        [
            UNKNOWN,
            [p(98), p(87), m(71)],
            [p(151), p(126), m(112)],
            [p(218), p(173), m(159)],
            [p(331), p(269), m(218)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        10.0,
        0.0,
        [
            UNKNOWN,
            [p(106), p(94), m(76)],
            [p(163), p(137), m(120)],
            [p(237), p(189), m(174)],
            [p(357), p(292), m(236)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        15.0,
        0.0,
        [
            UNKNOWN,
            [p(121), p(108), m(88)],
            [p(189), p(159), m(140)],
            [p(275), p(221), m(200)],
            [p(416), p(343), m(274)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        20.0,
        0.0,
        [
            UNKNOWN,
            [p(131), p(118), m(98)],
            [p(208), p(177), m(156)],
            [p(305), p(247), m(223)],
            [p(463), p(383), m(302)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
    row(
        30.0,
        0.0,
        [
            UNKNOWN,
            [p(145), p(132), m(113)],
            [p(236), p(202), m(180)],
            [p(350), p(286), p(257)],
            [p(533), p(446), m(349)],
            UNKNOWN,
            UNKNOWN,
        ],
    ),
];

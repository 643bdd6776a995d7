// Package vessel is the geometry of an upright round vessel: what it holds at a
// level, and the level of a volume.
//
// Dished ends are torispherical: a spherical dish of radius R joined to the
// shell by a knuckle of radius r, R = D and r = 0.1 D after DIN 28011
// (Klöpperboden), R = 0.8 D and r = 0.154 D after DIN 28013 (Korbbogenboden). The
// standards give R and r of the outside diameter and a short straight flange;
// here both are of the inside diameter and the flange counts as shell, so a
// dished end of a thick wall holds slightly more in truth. A cone is taken with
// 60° between its sides, a depth of 0.866 D: common practice for a cylindroconical
// tank, no source.
package vessel

// Package profile shows a way through a circuit from the side: the drawn fall of
// the line, what stays in it when it drains, where air stands when it fills, and
// its drains, vents and slopes. It computes nothing about liquid itself: that are
// the network's heights, draining and venting.
package profile

// Package isolation finds how a part or a run can be shut off, for work on it,
// from every source of liquid, pressure, heat and gas, and what that leaves to
// do: drain, vent, cool, flush, prove. It is an aid for qualified people. Site
// lock-out rules, local codes and permits come first, and what it says must be
// verified on site.
//
// # What is a source
//
// Every supply, whatever it gives; every other end of the circuit but a drain to
// sewer and a vent (a condensate or product line can push back); every vessel and
// every object that can hold liquid, save what is worked on. Heat passes the wall
// of an exchanger, so its other side counts as joined to the one worked on.
// Check valves, regulating valves, pumps and steam traps hold nothing back. A
// vessel that is told to be open to the air lets nothing out by its inlets.
//
// # What is a barrier
//
// A valve that shuts tight in some position of its kind. What may be relied on is
// a matter of the [Policy]: by default valves moved by hand, mix-proof valves
// (two seats with a drained space between them) and bends that are taken away,
// not a single automatic valve, whose air may come back. A check valve that the
// policy trusts lets nothing back and costs nothing.
//
// # What is best
//
// The set of valves with the least cost, found as a minimum cut; of sets that
// cost the same the one nearest the work, which keeps least liquid in. A vessel
// that no valve can shut off may be emptied instead, at a cost far above that of
// a valve. The costs are weights of our own, common practice, no source:
//
//	 5  a bend that is taken away
//	10  a valve moved by hand that can be locked; 14 where nobody told, 40 where it cannot be
//	20  a mix-proof valve
//	60  a single automatic valve (where the policy lets it count); 45 if it fails closed
//	70  a regulating valve (likewise)
//	 1,000  a single barrier where the policy wants two and a bleed
//	 2,000  a vessel or an object to be cleaned that must be empty
//	 5,000  a condensate line that must be shut off beyond the drawing
//	20,000  a storing vessel that must be empty
package isolation

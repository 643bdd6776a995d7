// Package group holds ready groups of parts: fragments of a circuit that are
// placed as one, such as a station or the set around a heater.
//
// A group's file is one JSON object:
//
//	{
//	  "schema": "rinsewright-group",
//	  "version": 1,
//	  "name": "drain-set",                 as the file is called, without .json
//	  "title": "Drain with air gap",
//	  "heading": "Ready groups",           that it stands under in the store of parts
//	  "words": ["low point", ...],         that it is found by
//	  "help": "...",                       what it is for
//	  "free": [{"part": ..., "port": ..., "title": ...}, ...],
//	  "parts": [...],                      as in the circuit file
//	  "runs": [...]
//	}
//
// The free ends are the ports that are to be joined where the group is placed.
// A port that must be joined and is not stands among them.
package group

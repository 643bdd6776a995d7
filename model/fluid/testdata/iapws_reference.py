"""Values of the iapws library (Debian package python3-iapws) for comparison.

Reads a JSON list of questions on standard input, each {"kind", "x", "y"}, and
writes the list of answers, each a list of numbers. SI units without prefixes.
"""
import json
import sys

from iapws import iapws97, _iapws


def basic(state):
    return [state["v"], state["h"] * 1e3, state["s"] * 1e3, state["cp"] * 1e3]


ANSWER = {
    "region1": lambda T, p: basic(iapws97._Region1(T, p / 1e6)),
    "region2": lambda T, p: basic(iapws97._Region2(T, p / 1e6)),
    "psat": lambda T, _: [iapws97._PSat_T(T) * 1e6],
    "tsat": lambda p, _: [iapws97._TSat_P(p / 1e6)],
    "ph1": lambda p, h: [iapws97._Backward1_T_Ph(p / 1e6, h / 1e3)],
    "ps1": lambda p, s: [iapws97._Backward1_T_Ps(p / 1e6, s / 1e3)],
    "ph2": lambda p, h: [iapws97._Backward2_T_Ph(p / 1e6, h / 1e3)],
    "ps2": lambda p, s: [iapws97._Backward2_T_Ps(p / 1e6, s / 1e3)],
    "viscosity": lambda d, T: [_iapws._Viscosity(d, T)],
    "conductance": lambda d, T: [_iapws._ThCond(d, T)],
}

json.dump([ANSWER[q["kind"]](q["x"], q["y"]) for q in json.load(sys.stdin)], sys.stdout)

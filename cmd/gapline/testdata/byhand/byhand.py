"""Works figures out again from nothing but the text of `gapline explain FIGURE FILE`.

Reads such texts, with a form feed between them, from standard input. Takes the inputs as
they are printed, with their units, and the lines of the part IN FULL, and prints for each
figure: its key, the value that the lines give, what is printed as the result, and whether
the two agree to the digits printed. It shares no code with gapline: the lines become Python
expressions. What gapline says that the lines give, behind the arrows, is not read.
"""
import cmath
import math
import re
import sys

UNITS = {
    "": 1, "mm": 1e-3, "m": 1, "Hz": 1, "kHz": 1e3, "L": 1e-3, "cm²": 1e-4, "%": 1e-2, "kPa": 1e3, "Ω": 1, "mH": 1e-3,
    "W": 1, "dB": 1, "oct": 1, "°": math.pi / 180, "m/s": 1, "kg/m³": 1, "g": 1e-3,
}
NUMBER = r"[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?"
NAME = r"[^\W\d](?:\w|[₀-₉½.])*"


def quantity(text):
    """A number with its unit in SI, with the worth of its last digit; None for words."""
    m = re.match(r"([-−]?)([0-9]+)(\.[0-9]+)?(e[-+]?[0-9]+)?(?: ?(mm|m/s|m|kHz|Hz|L|cm²|%|kPa|Ω|mH|W|dB|oct|kg/m³|g|°C|°))?(?![\w³])", text)
    if m is None:
        return None
    digits = m[2] + (m[3] or "")
    exponent = int(m[4][1:]) if m[4] else 0
    value = float(digits) * 10.0**exponent * (-1 if m[1] else 1)
    last = 10.0 ** (exponent - (len(m[3]) - 1 if m[3] else 0))
    if m[5] == "°C":
        return value + 273.15, last
    return value * UNITS[m[5] or ""], last * UNITS[m[5] or ""]


def read(text):
    """Key, result, inputs (numbers and words) and lines in full of one explanation."""
    key = text.split(":", 1)[0].strip()
    numbers, words, lines, result = {}, {}, [], ""
    part = ""
    for row in text.splitlines():
        if row.startswith("IN FULL"):
            part = "full"
            continue
        if row.startswith("STEPS"):
            break
        if part == "full":
            if row.startswith("      "):
                lines[-1] += " " + row.strip()
            else:
                lines.append(row.strip())
            continue
        label = row[:12].strip()
        part = label or part
        if part == "result":
            result += row[12:] + " "
        if part != "inputs":
            continue
        said = row[12:].strip()
        m = re.match(rf"(?:(\S+) = )?([a-z_]+(?:\.[a-z0-9_]+)+)(?: = (.*)|: not given; (.*) unless given|: )", said)
        if m is None:
            continue
        value = m[3] or m[4]
        if not value:
            continue
        for name in filter(None, (m[1], m[2])):
            words[name] = value
            found = quantity(value)
            if found is not None:
                numbers[name] = found[0]
            elif value == "flat":
                numbers[name] = math.inf
    return key, result.strip(), numbers, words, lines


def greatest(*x):
    return max((y.real for y in map(complex, x) if not cmath.isnan(y)), default=math.nan)


def least(*x):
    return min((y.real for y in map(complex, x) if not cmath.isnan(y)), default=math.nan)


def bessel(x):
    """J₁ by its integral, (1/π)∫₀^π cos(t − x·sin t) dt; the trapezoid rule is exact to rounding."""
    n = 200
    return sum(math.cos(t - x.real * math.sin(t)) for t in ((i + 0.5) * math.pi / n for i in range(n))) / n


def real(f):
    def of(x):
        try:
            return f(complex(x).real)
        except ValueError:  # the logarithm of nothing
            return -math.inf if complex(x).real == 0 else math.nan
    return of


KNOWN = {
    "exp": real(math.exp), "ln": real(math.log), "log2": real(math.log2), "log10": real(math.log10), "sin": real(math.sin),
    "cos": real(math.cos), "tan": real(math.tan), "atan": real(math.atan), "asinh": real(math.asinh), "J₁": lambda x: bessel(complex(x)),
    "max": greatest, "min": least, "abs": abs, "sqrt": cmath.sqrt, "π": math.pi, "j": 1j,
}


def python(text):
    """A formula as a Python expression, its names looked up by v."""
    text = re.sub(r"\|([^|]*)\|", r"abs(\1)", text).replace("√", "sqrt")
    for a, b in (("·", "*"), ("−", "-"), ("^", "**"), ("²", "**2"), ("³", "**3")):
        text = text.replace(a, b)
    return re.sub(rf"({NUMBER})|({NAME})", lambda m: m[1] or f"v({m[2]!r})", text)


class Sheet:
    """The lines of one figure."""

    def __init__(self, numbers, words, lines):
        self.numbers, self.words, self.lines, self.bound = numbers, words, {}, {}
        searches = []
        for line in lines:
            if line.startswith("("):
                continue
            line = line.split(" → ")[0].split("; ")[0]
            self.last, rest = line.split(" = ", 1)
            m = re.match(r"(.*), at the (least|highest) (\S+)(?: = 1, 2, 3 …)? with (.*) ([=>]) (.*)$", rest)
            if m:
                rest = m[1]
                searches.append((m[2], m[3], python(m[4]), python(m[6])))
            self.lines[self.last] = [self.way(w) for w in rest.split(", else ")]
        for how, name, left, right in searches:
            self.search(how, name, lambda: complex(self.run(left)).real - complex(self.run(right)).real)

    def way(self, text):
        m = re.match(r"(.*) (where|unless) (\S+) is (\S+)$", text)
        return (python(m[1]), m[3], m[4], m[2] == "unless") if m else (python(text), None, None, False)

    def run(self, code):
        try:
            return eval(code, {"v": self.value, "__builtins__": {}})
        except ZeroDivisionError:
            return math.nan

    def value(self, name):
        for where in (KNOWN, self.bound, self.numbers):
            if name in where:
                return where[name]
        for code, of, word, negated in self.lines.get(name, []):
            if word == "given" and cmath.isnan(complex(self.value(of))):
                continue
            if word not in (None, "given") and (self.words.get(of) == word) == negated:
                continue
            x = self.run(code)
            if not cmath.isnan(complex(x)):
                return x
        return math.nan

    def search(self, how, name, excess):
        def at(x):
            self.bound[name] = x
            return excess()
        if how == "least":
            next((m for m in range(1, 65) if at(m) > 0), None)
            return
        high = 40e3
        while (at(high) > 0) == (at(high / 1.01) > 0):
            high /= 1.01
        low, sign = high / 1.01, at(high) > 0
        for _ in range(100):
            middle = (low + high) / 2
            if (at(middle) > 0) == sign:
                high = middle
            else:
                low = middle
        at(middle)


def agree(value, result):
    """Whether a value is what is printed, short and in full."""
    short, _, full = result.partition(", in full ")
    for said, printed in (("short", short), ("full", full)):
        found = quantity(printed)
        if found is None:
            return f"no number: {printed}"
        number, last = found
        x = abs(value) if "overlap" in printed else value
        # Inputs of six digits are off by up to 5e-6 each.
        slack = 0.5 * last + (3e-6 if said == "short" else 3e-5) * abs(number)
        if "%" in printed:  # a ratio less 1, of which only the ratio is known so well
            slack += 1e-5
        if not abs(x - number) <= slack:
            return f"off: {x} is not {printed}"
    return "agrees"


for text in sys.stdin.read().split("\f"):
    key, result, numbers, words, lines = read(text)
    sheet = Sheet(numbers, words, lines)
    value = complex(sheet.value(sheet.last)).real
    print(key, repr(value), agree(value, result), result, sep="\t")

"""ngspice as a second opinion: many circuits in one process through its library, or one in batch mode."""

import ctypes
import ctypes.util
import re
import subprocess
from collections.abc import Sequence


class _VectorInfo(ctypes.Structure):
    _fields_ = (
        ("name", ctypes.c_char_p),
        ("type", ctypes.c_int),
        ("flags", ctypes.c_short),
        ("real", ctypes.POINTER(ctypes.c_double)),
        ("complex", ctypes.c_void_p),
        ("length", ctypes.c_int),
    )


_SEND = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_void_p)
_EXIT = ctypes.CFUNCTYPE(
    ctypes.c_int, ctypes.c_int, ctypes.c_bool, ctypes.c_bool, ctypes.c_int, ctypes.c_void_p
)


class Ngspice:
    """The shared library. One circuit is loaded at a time."""

    def __init__(self) -> None:
        path = ctypes.util.find_library("ngspice") or "libngspice.so.0"
        self.library = ctypes.CDLL(path)
        self.said: list[str] = []
        # the callbacks must outlive the library's use of them
        self.send = _SEND(self._hear)
        self.quit = _EXIT(lambda *_: 0)
        self.library.ngSpice_Init(self.send, None, self.quit, None, None, None, None)
        self.library.ngGet_Vec_Info.restype = ctypes.POINTER(_VectorInfo)
        self.command("set numdgt=14")
        self.loaded = False

    def _hear(self, text: bytes, _number: int, _user: object) -> int:
        self.said.append(text.decode("utf-8", "replace"))
        return 0

    def command(self, text: str) -> int:
        """Give one command; the return code is the library's."""
        return int(self.library.ngSpice_Command(text.encode()))

    def load(self, lines: Sequence[str]) -> None:
        """Replace the circuit by these lines."""
        if self.loaded:
            self.command("destroy all")
            self.command("remcirc")
        self.said.clear()
        text = [line.encode() for line in lines]
        array = (ctypes.c_char_p * (len(text) + 1))(*text, None)
        code = self.library.ngSpice_Circ(array)
        assert code == 0, (code, self.said[-5:])
        self.loaded = True

    def vector(self, name: str) -> list[float] | None:
        """All values of a vector, or None where it does not exist."""
        found = self.library.ngGet_Vec_Info(name.encode())
        if not found or not found.contents.length:
            return None
        info = found.contents
        return [info.real[i] for i in range(info.length)]

    def voltages(self, n_node: int) -> list[float] | None:
        """An operating point's node voltages n1, n2, ... with 0.0 for the reference; None where it failed.

        The return code says nothing: only the vectors themselves count.
        """
        self.command("destroy all")
        self.command("op")
        out = [0.0]
        for k in range(1, n_node):
            value = self.vector(f"n{k}")
            if value is None:
                return None
            out.append(value[-1])
        return out


_one: list[Ngspice] = []


def ngspice() -> Ngspice:
    """The one instance of a process; tests that call this carry the marker needs_libngspice."""
    if not _one:
        _one.append(Ngspice())
    return _one[0]


def batch(text: str) -> dict[str, float]:
    """Run `ngspice -b` on a netlist (marker needs_ngspice); what it printed as `name = value`.

    Its exit status is 0 even after a faulty netlist, so only what was printed counts.
    """
    done = subprocess.run(
        ["ngspice", "-b", "/dev/stdin"], input=text, capture_output=True, text=True, timeout=60, check=False
    )
    return {name: float(value) for name, value in re.findall(r"^(\S+) = (\S+)$", done.stdout, re.M)}

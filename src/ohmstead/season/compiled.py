"""The pass over the hours as machine code: compiled once, then kept beside the module."""

from numba import njit

from .flow import flow

fast = njit("void(float64[:,::1], float64[:,::1], float64[::1], float64[::1], float64[:,::1])", cache=True)(flow)

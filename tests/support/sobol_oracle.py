#!/usr/bin/python3
"""gradin_sobol() against SciPy's generator, a general library with the same published direction
numbers (Joe and Kuo 2008), in all 16 dimensions. SciPy gives points in the order of the Gray code.

usage: sobol_oracle.py LIBRARY"""

import ctypes
import sys
import unittest

try:
    from scipy.stats import qmc
except ImportError:
    qmc = None

N_DIMENSION, N_POINT = 16, 2048
LIBRARY = sys.argv.pop(1)


@unittest.skipUnless(qmc, "needs python3-scipy")
class Sobol(unittest.TestCase):
    def test_points(self):
        library = ctypes.CDLL(LIBRARY)
        library.gradin_sobol.restype = ctypes.c_double
        theirs = qmc.Sobol(N_DIMENSION, scramble=False).random(N_POINT)
        for i in range(N_POINT):
            for k in range(N_DIMENSION):
                self.assertAlmostEqual(library.gradin_sobol(i ^ (i >> 1), k), theirs[i, k],
                                       delta=1e-9, msg=f"point {i}, dimension {k}")


if __name__ == "__main__":
    unittest.main()

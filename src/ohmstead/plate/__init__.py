"""The geometry of a mounting plate: outlines, ducts, ways along them, how full and how bent. Knows no site. [mm]"""

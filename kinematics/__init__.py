"""Steering geometry and stance of a kart: pure functions of parts and arrays.

Axes are ISO 8855 vehicle axes fixed to the frame (x forward, y left, z up), the origin on the floor in
the mid-plane under the rear axle at the reference stance. Inside: mm, N, N·mm, kg, rad.
"""

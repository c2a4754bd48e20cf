#!/usr/bin/python3
"""Compares reading with a plain structure tensor in OpenCV on the same pictures.

Usage: scripts/opencv_compare.py DIR

DIR holds pictures and a truth.csv (columns file, readable, direction,
angle_deg). Needs Debian's python3-opencv and Go. The tensor is what a handbook
offers first: decode, grey, an Otsu mask, the axis from the mask's second
moments, and the mean orientation of the gradient inside the mask. It knows no
strands, so its angle is that of the texture. Both are timed in one run on one
machine; the answers of Go come from the accuracy test of package reading.
"""
import csv
import os
import statistics
import subprocess
import sys
import time

import cv2
import numpy as np


def mean_orientation(xx, xy, yy):
    """Direction along which the gradient is least, in radians."""
    return 0.5 * np.arctan2(2 * xy, xx - yy) + np.pi / 2


def tensor_angle(grey):
    """Signed angle of the texture to the axis in degrees, Z positive."""
    _, mask = cv2.threshold(grey, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    if mask.mean() > 127:
        mask = 255 - mask
    m = cv2.moments(mask, True)
    if m["m00"] == 0:
        return None
    axis = 0.5 * np.arctan2(2 * m["mu11"], m["mu20"] - m["mu02"])
    smooth = cv2.GaussianBlur(grey, (0, 0), 1.5).astype(np.float32)
    gx, gy = cv2.Scharr(smooth, cv2.CV_32F, 1, 0), cv2.Scharr(smooth, cv2.CV_32F, 0, 1)
    inside = cv2.erode(mask, np.ones((9, 9), np.uint8)) > 0
    if not inside.any():
        return None
    gx, gy = gx[inside], gy[inside]
    lean = mean_orientation((gx * gx).sum(), (gx * gy).sum(), (gy * gy).sum())
    # Rows run down: against the axis, a Z falls to the right hand.
    off = (lean - axis + np.pi / 2) % np.pi - np.pi / 2
    return np.degrees(off)


def main(folder):
    errors, wrong, answers = [], 0, 0
    decoding, beyond = [], []
    with open(os.path.join(folder, "truth.csv"), newline="") as f:
        rows = list(csv.DictReader(f))
    for row in rows:
        with open(os.path.join(folder, row["file"]), "rb") as f:
            data = np.frombuffer(f.read(), np.uint8)
        start = time.perf_counter()
        picture = cv2.imdecode(data, cv2.IMREAD_COLOR)
        decoded = time.perf_counter()
        angle = tensor_angle(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY))
        decoding.append(decoded - start)
        beyond.append(time.perf_counter() - decoded)
        if row["readable"] != "1":
            answers += angle is not None
        elif angle is not None:
            errors.append(abs(abs(angle) - float(row["angle_deg"])))
            wrong += (angle > 0) != (row["direction"] == "Z")
    print("OpenCV", cv2.__version__)
    print(f"mean absolute error {statistics.mean(errors):.1f} deg, wrong directions {wrong} of {len(errors)},"
          f" answers on unreadable pictures {answers}")
    print(f"seconds for decoding: median {statistics.median(decoding):.3f}; beyond it: median"
          f" {statistics.median(beyond):.3f}, most {max(beyond):.3f}")
    print("Go")
    sys.stdout.flush()
    root = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..")
    subprocess.run(["go", "test", "-count=1", "-run", "Accuracy", "-v", "./reading", "-args", "-truth",
                    os.path.abspath(folder)], cwd=root, check=False)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    cv2.setNumThreads(1)
    main(sys.argv[1])

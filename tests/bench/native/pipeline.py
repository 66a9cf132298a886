"""One photo through the stages of a capture with native OpenCV on one thread, twice; prints what it cost as JSON.

Decode, find cards (adaptive threshold, quads, sub-pixel chequer corners), homography and lens, straighten, segment, refine
the outline at sub-pixel edges of the photo, split at corners, look for ticks and notches. Written to be measured beside
the program, not to be as good. It does less (no proof of the outline, no dashed lines, no darts), which makes it cheaper;
its maps for straightening are made with NumPy, which makes it dearer than C++ would be. Nobody
checked its outlines against the truth: take the ratio as a rough one.
"""
import json
import resource
import sys
import time

import cv2
import numpy as np

cv2.setNumThreads(1)

SQUARE_MM = 11.5
SADDLES = 6
# as fine as the program straightens
MM_PER_PX = 0.5
SEGMENT_MM_PER_PX = 1.0


def find_cards(gray):
    """Chequers of 6 x 6 saddles: candidates are light quads of card shape at half size, corners are refined at full size."""
    half = cv2.resize(gray, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    cards = []
    boxes = []
    for block in (31, 61, 121):
        binary = cv2.adaptiveThreshold(half, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, block, 7)
        contours, _ = cv2.findContours(binary, cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE)
        for contour in contours:
            if cv2.contourArea(contour) < 80:
                continue
            quad = cv2.approxPolyDP(contour, 0.05 * cv2.arcLength(contour, True), True)
            if len(quad) == 4 and cv2.isContourConvex(quad) and is_chequer_like(half, cv2.boundingRect(quad)):
                boxes.append(cv2.boundingRect(quad))
    # squares of a chequer crowd together: grow each into its neighbourhood and keep the crowded places
    crowd = np.zeros(half.shape, np.uint8)
    for x, y, w, h in boxes:
        if max(w, h) < 200:
            cv2.rectangle(crowd, (x - w // 2, y - h // 2), (x + w + w // 2, y + h + h // 2), 255, -1)
    count, _, stats, _ = cv2.connectedComponentsWithStats(crowd)
    for k in range(1, count):
        x, y, w, h, _ = stats[k]
        if w < 60 or h < 60 or max(w, h) > 1200:
            continue
        pad = 10
        x0, y0 = max(0, x - pad), max(0, y - pad)
        patch = half[y0 : y + h + pad, x0 : x + w + pad]
        found, corners = cv2.findChessboardCornersSB(patch, (SADDLES, SADDLES), flags=cv2.CALIB_CB_NORMALIZE_IMAGE)
        if not found:
            continue
        corners = (corners.reshape(-1, 2) + (x0, y0)) * 2 + 0.5
        corners = corners.astype(np.float32).reshape(-1, 1, 2)
        cv2.cornerSubPix(gray, corners, (5, 5), (-1, -1), (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 40, 0.001))
        cards.append(corners.reshape(-1, 2))
    return cards


def is_chequer_like(gray, box):
    """Dark, and a good part of what surrounds it is far lighter: not a cell of a ruled mat."""
    x, y, w, h = box
    if max(w, h) > 200:
        return False
    around = gray[max(0, y - h // 2) : y + h + h // 2, max(0, x - w // 2) : x + w + w // 2]
    return np.mean(gray[y + h // 4 : y + h - h // 4, x + w // 4 : x + w - w // 4]) < 0.6 * np.percentile(around, 75)


def lattice():
    grid = np.mgrid[0:SADDLES, 0:SADDLES].T.reshape(-1, 2) * SQUARE_MM
    return np.hstack([grid, np.zeros((len(grid), 1))]).astype(np.float32)


def solve_plane(cards, size, focal_px):
    """Lens from all cards, pose of the first, then the plane that all agree on."""
    width, height = size
    camera = np.array([[focal_px, 0, width / 2], [0, focal_px, height / 2], [0, 0, 1]], np.float64)
    flags = (
        cv2.CALIB_USE_INTRINSIC_GUESS
        | cv2.CALIB_FIX_ASPECT_RATIO
        | cv2.CALIB_ZERO_TANGENT_DIST
        | cv2.CALIB_FIX_K3
        | cv2.CALIB_FIX_PRINCIPAL_POINT
    )
    objects = [lattice() for _ in cards]
    _, camera, distortion, turns, shifts = cv2.calibrateCamera(objects, cards, size, camera, np.zeros(5), flags=flags)
    reference, _ = cv2.Rodrigues(turns[0])
    placed, seen = [], []
    normal, origin = reference[:, 2], shifts[0].ravel()
    for points in cards:
        rays = cv2.undistortPoints(points.reshape(-1, 1, 2), camera, distortion).reshape(-1, 2)
        rays = np.hstack([rays, np.ones((len(rays), 1))])
        on = rays * ((origin @ normal) / (rays @ normal))[:, None] - origin
        placed.append(on @ reference[:, :2])
        seen.append(points)
    scales = [SQUARE_MM * (SADDLES - 1) / np.linalg.norm(p[SADDLES - 1] - p[0]) for p in placed]
    plane = np.vstack(placed).astype(np.float64) * np.median(scales)
    ideal = cv2.undistortPoints(np.vstack(seen).reshape(-1, 1, 2), camera, distortion, P=camera).reshape(-1, 2)
    homography, _ = cv2.findHomography(plane, ideal, cv2.RANSAC, 3.0)
    return camera, distortion, homography


def straighten(image, camera, distortion, homography):
    height, width = image.shape[:2]
    rim = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32).reshape(-1, 1, 2)
    table = cv2.perspectiveTransform(rim, np.linalg.inv(homography)).reshape(-1, 2)
    low, high = table.min(0), table.max(0)
    high = np.minimum(high, low + 2200)
    cols, rows = np.ceil((high - low) / MM_PER_PX).astype(int)
    xs, ys = np.meshgrid(low[0] + np.arange(cols) * MM_PER_PX, low[1] + np.arange(rows) * MM_PER_PX)
    points = np.stack([xs, ys], -1).reshape(-1, 1, 2).astype(np.float32)
    ideal = cv2.perspectiveTransform(points, homography).reshape(-1, 2)
    maps = distort(ideal, camera, distortion).reshape(rows, cols, 2).astype(np.float32)
    return cv2.remap(image, maps, None, cv2.INTER_LINEAR), low


def distort(ideal, camera, distortion):
    x = (ideal[:, 0] - camera[0, 2]) / camera[0, 0]
    y = (ideal[:, 1] - camera[1, 2]) / camera[1, 1]
    r2 = x * x + y * y
    k1, k2 = distortion.ravel()[:2]
    factor = 1 + r2 * (k1 + r2 * k2)
    return np.stack([x * factor * camera[0, 0] + camera[0, 2], y * factor * camera[1, 1] + camera[1, 2]], -1)


def segment(table, low, cards_mm):
    """Paper is what differs from the table's colour; cards are taken out."""
    factor = MM_PER_PX / SEGMENT_MM_PER_PX
    small = cv2.resize(table, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    lab = cv2.cvtColor(cv2.bilateralFilter(small, 7, 30, 5), cv2.COLOR_BGR2LAB).astype(np.float32)
    samples = lab[::4, ::4].reshape(-1, 3)
    _, labels, centres = cv2.kmeans(samples, 4, None, (cv2.TERM_CRITERIA_MAX_ITER, 20, 0.5), 2, cv2.KMEANS_PP_CENTERS)
    away = np.min([np.linalg.norm(lab - c, axis=2) for c in centres[centres[:, 0] < centres[:, 0].max()]], axis=0)
    light = np.linalg.norm(lab - centres[np.argmax(centres[:, 0])], axis=2)
    mask = (light < away).astype(np.uint8)
    for card in cards_mm:
        hull = cv2.convexHull(((card - low) / SEGMENT_MM_PER_PX).astype(np.int32))
        cv2.fillConvexPoly(mask, hull, 0)
        cv2.polylines(mask, [hull], True, 0, 120)
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8))
    mask = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, np.ones((9, 9), np.uint8))
    contours, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    rows, cols = mask.shape
    whole = []
    for contour in contours:
        x, y, w, h = cv2.boundingRect(contour)
        if cv2.contourArea(contour) > 5000 and x > 1 and y > 1 and x + w < cols - 1 and y + h < rows - 1:
            whole.append(contour.reshape(-1, 2) * SEGMENT_MM_PER_PX + low)
    return whole


def refine(gray, outline, camera, distortion, homography):
    """Every half millimetre: the steepest place of the photo's brightness across the outline, by a parabola."""
    closed = np.vstack([outline, outline[:1]])
    along = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))])
    at = np.arange(0, along[-1], 0.5)
    points = np.stack([np.interp(at, along, closed[:, i]) for i in (0, 1)], -1)
    smooth = np.stack([np.convolve(np.pad(points[:, i], 8, "wrap"), np.ones(17) / 17, "valid") for i in (0, 1)], -1)
    for reach in (3.0, 1.0):
        tangent = np.roll(smooth, -2, 0) - np.roll(smooth, 2, 0)
        normal = np.stack([tangent[:, 1], -tangent[:, 0]], -1)
        normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-9)
        offsets = np.linspace(-reach, reach, 41)
        probes = smooth[:, None] + normal[:, None] * offsets[None, :, None]
        ideal = cv2.perspectiveTransform(probes.reshape(-1, 1, 2), homography).reshape(-1, 2)
        maps = distort(ideal, camera, distortion).astype(np.float32).reshape(len(smooth), -1, 2)
        blocks = [cv2.remap(gray, maps[i : i + 16000], None, cv2.INTER_LINEAR) for i in range(0, len(maps), 16000)]
        profile = cv2.GaussianBlur(np.vstack(blocks).astype(np.float32), (5, 1), 1.0)
        slope = np.abs(np.diff(profile, axis=1))
        best = np.clip(slope.argmax(1), 1, slope.shape[1] - 2)
        rows = np.arange(len(best))
        a, b, c = slope[rows, best - 1], slope[rows, best], slope[rows, best + 1]
        shift = np.clip((a - c) / np.where(np.abs(a - 2 * b + c) < 1e-6, 1, 2 * (a - 2 * b + c)), -1, 1)
        step = offsets[1] - offsets[0]
        smooth = smooth + normal * (offsets[0] + (best + shift + 0.5) * step)[:, None]
        smooth = np.stack([np.convolve(np.pad(smooth[:, i], 3, "wrap"), np.ones(7) / 7, "valid") for i in (0, 1)], -1)
    return smooth


def split_corners(outline):
    """Places where lines fitted to both sides turn by more than 20 degrees, the sharpest within 10 mm."""
    side = 16
    turns = np.zeros(len(outline))
    for i in range(len(outline)):
        before = np.take(outline, np.arange(i - side, i + 1), 0, mode="wrap").astype(np.float32)
        after = np.take(outline, np.arange(i, i + side + 1), 0, mode="wrap").astype(np.float32)
        u = cv2.fitLine(before, cv2.DIST_HUBER, 0, 0.01, 0.01).ravel()[:2]
        v = cv2.fitLine(after, cv2.DIST_HUBER, 0, 0.01, 0.01).ravel()[:2]
        turns[i] = np.degrees(np.arccos(np.clip(abs(float(u @ v)), 0, 1)))
    order = np.argsort(-turns)
    kept = []
    for i in order:
        if turns[i] < 20:
            break
        if all(min(abs(i - j), len(outline) - abs(i - j)) > 20 for j in kept):
            kept.append(int(i))
    return sorted(kept)


def find_marks(table, low, outline):
    """Lines inside the piece, and dark or light cuts in a band along its outline."""
    pixels = ((outline - low) / MM_PER_PX).astype(np.int32)
    x, y, w, h = cv2.boundingRect(pixels)
    gray = cv2.cvtColor(table[max(y, 0) : y + h, max(x, 0) : x + w], cv2.COLOR_BGR2GRAY)
    inside = np.zeros(gray.shape, np.uint8)
    cv2.fillPoly(inside, [pixels - (max(x, 0), max(y, 0))], 255)
    ink = cv2.morphologyEx(gray, cv2.MORPH_BLACKHAT, np.ones((9, 9), np.uint8))
    _, binary = cv2.threshold(cv2.bitwise_and(ink, cv2.erode(inside, np.ones((5, 5), np.uint8))), 20, 255, cv2.THRESH_BINARY)
    lines = cv2.HoughLinesP(binary, 1, np.pi / 720, 30, minLineLength=40, maxLineGap=6)
    band = cv2.subtract(inside, cv2.erode(inside, np.ones((21, 21), np.uint8)))
    cuts, _ = cv2.findContours(cv2.bitwise_and(binary, band), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    ticks = [c for c in cuts if max(cv2.minAreaRect(c)[1]) > 5]
    return 0 if lines is None else len(lines), len(ticks)


def read(file, stages):
    def lap(name, started):
        stages[name] = round(stages.get(name, 0) + time.process_time() - started, 3)
        return time.process_time()

    clock = time.process_time()
    image = cv2.imread(file)
    gray = cv2.cvtColor(image, cv2.COLOR_BGR2GRAY)
    clock = lap("decode", clock)
    cards = find_cards(gray)
    clock = lap("cards", clock)
    if not cards:
        raise SystemExit("no card was found: this photo cannot be compared")
    height, width = gray.shape
    focal = 26 / 21.633 * np.hypot(width, height) / 2
    camera, distortion, homography = solve_plane(cards, (width, height), focal)
    clock = lap("plane", clock)
    table, low = straighten(image, camera, distortion, homography)
    clock = lap("straighten", clock)
    ideal = [cv2.undistortPoints(c.reshape(-1, 1, 2), camera, distortion, P=camera) for c in cards]
    cards_mm = [cv2.perspectiveTransform(i.astype(np.float64), np.linalg.inv(homography)).reshape(-1, 2) for i in ideal]
    pieces = segment(table, low, cards_mm)
    clock = lap("segment", clock)
    for piece in pieces:
        outline = refine(gray, piece, camera, distortion, homography)
        clock = lap("outline", clock)
        split_corners(outline)
        clock = lap("corners", clock)
        find_marks(table, low, outline)
        clock = lap("marks", clock)
    return len(cards), len(pieces)


def main():
    costs, stages = [], {}
    for _ in range(2):
        started = time.process_time()
        stages = {}
        cards, pieces = read(sys.argv[1], stages)
        costs.append(round(time.process_time() - started, 3))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"cards": cards, "pieces": pieces, "cpuSeconds": costs, "peakMb": round(peak), "stages": stages}))


main()

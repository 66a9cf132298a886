"""One photo through the stages of a capture with native OpenCV on one thread, twice; prints what it cost as JSON.

A yardstick of cost, written to be measured beside the program, not to be as good: nobody checked its outlines against the
truth. It holds what a plain native pipeline for the same job would need and nothing to fill time; every step runs once.

  decode      the JPEG, and the grey picture of it
  cards       adaptive threshold at three windows, quads, sub-pixel chequer corners, the number in each card's code
  plane       three lenses (none, one radial term, two), the best by evidence, with standard deviations
  straighten  the table at the program's 0.5 mm a pixel
  segment     what the table looks like (light, colour, texture; learnt around the cards and along the photo's rim) and what
              does not look like it; even areas with a sharp rim; the border drawn by the colours on its two sides
  ink         drawn outlines: ridges of the straightened picture, linked
  outline     the steepest place across the outline in the photo's own pixels and three colours, by a path that may not jump;
              and what lies on both sides all along, by which things that lie over the edge are told
  corners     lines fitted to both sides of every place
  marks       a strip along the outline and the inside of the piece from the photo at 4 pixels a millimetre: cuts and ticks,
              spots, long lines
  keep        the straightened picture as a JPEG, as the program keeps it

The program does more in these: four readings of tilt and lens with their weights, pages not cut apart, faint paper and
reflections tried in several ways, dashes, darts, folds, arrow heads, bridging. That makes the yardstick cheaper. Arithmetic
on whole arrays is NumPy, and half of the whole time is OpenCV's own chequer search, which make it dearer than the best C++:
take the ratio as a rough one.
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
MARKS_MM_PER_PX = 0.25


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
        read_code(gray, corners.reshape(-1, 2))
        cards.append(corners.reshape(-1, 2))
    return cards


def read_code(gray, corners):
    """The number printed below the chequer, in the four ways that the search may have turned it: 6 x 6 cells, dark or light."""
    cells = np.float32([[3.6 * x - 6.1, 3.6 * y + 79.85] for y in range(6) for x in range(6)])
    middle = SQUARE_MM * (SADDLES - 1) / 2
    photo_from_card, _ = cv2.findHomography(lattice()[:, :2], corners)
    numbers = []
    for _ in range(4):
        cells = np.stack([2 * middle - cells[:, 1], cells[:, 0]], -1)
        places = cv2.perspectiveTransform(cells.reshape(-1, 1, 2), photo_from_card)
        levels = cv2.remap(gray, places.astype(np.float32), None, cv2.INTER_LINEAR).ravel()
        limit = (int(levels.min()) + int(levels.max())) / 2
        numbers.append(int("".join("1" if level > limit else "0" for level in levels), 2))
    return numbers


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
    known = cv2.CALIB_USE_INTRINSIC_GUESS | cv2.CALIB_FIX_ASPECT_RATIO | cv2.CALIB_ZERO_TANGENT_DIST
    known |= cv2.CALIB_FIX_K3 | cv2.CALIB_FIX_PRINCIPAL_POINT
    objects = [lattice() for _ in cards]
    count = 2 * sum(len(points) for points in cards)
    best = None
    for terms, fixed in enumerate((cv2.CALIB_FIX_K1 | cv2.CALIB_FIX_K2, cv2.CALIB_FIX_K2, 0)):
        rms, lens, bend, turns, shifts, _, _, _ = cv2.calibrateCameraExtended(
            objects, cards, size, camera.copy(), np.zeros(5), flags=known | fixed
        )
        evidence = count * np.log(rms) + terms * np.log(count) / 2
        if best is None or evidence < best[0]:
            best = evidence, lens, bend, turns, shifts
    _, camera, distortion, turns, shifts = best
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
    return sampled(image, plane_grid(low, rows, cols, MM_PER_PX), camera, distortion, homography), low


def distort(ideal, camera, distortion):
    x = (ideal[:, 0] - camera[0, 2]) / camera[0, 0]
    y = (ideal[:, 1] - camera[1, 2]) / camera[1, 1]
    r2 = x * x + y * y
    k1, k2 = distortion.ravel()[:2]
    factor = 1 + r2 * (k1 + r2 * k2)
    return np.stack([x * factor * camera[0, 0] + camera[0, 2], y * factor * camera[1, 1] + camera[1, 2]], -1)


def features_of(small):
    """Log light, two log ratios of colour, texture within 7 and 26 mm, grain; a row a pixel of 1 mm."""
    light = np.log((small.astype(np.float32) / 255) ** 2.2 + 0.01)
    blue, green, red = cv2.split(light)
    lightness = (blue + green + red) / 3
    planes = [lightness, red - green, blue - green]
    for window in (7, 26):
        mean = cv2.blur(lightness, (window, window))
        planes.append(np.log(np.sqrt(np.maximum(cv2.blur(lightness * lightness, (window, window)) - mean * mean, 0)) + 0.012))
    planes.append(cv2.blur(np.abs(lightness - cv2.blur(lightness, (3, 3))), (7, 7)))
    return np.stack(planes, -1)


def table_distance(features, learn):
    """Squared distance of every pixel to the nearest of seven looks of the table."""
    samples = features[learn]
    samples = samples[:: max(1, len(samples) // 4000)]
    spread = samples.std(0) + 1e-3
    _, labels, _ = cv2.kmeans(samples / spread, 7, None, (cv2.TERM_CRITERIA_MAX_ITER, 6, 0), 1, cv2.KMEANS_PP_CENTERS)
    nearest = np.full(features.shape[:2], np.inf, np.float32)
    for k in range(7):
        group = samples[labels.ravel() == k]
        if len(group) < 12:
            continue
        whiten = np.linalg.cholesky(np.linalg.inv(np.cov(group.T) + np.diag([0.01, 0.001, 0.002, 0.06, 0.09, 0.09]))).astype(np.float32)
        off = (features - group.mean(0)) @ whiten
        nearest = np.minimum(nearest, np.einsum("ijk,ijk->ij", off, off))
    return nearest


def even_areas(lightness, barred):
    """Areas without a change of light, at three strictnesses, that are large and do not touch the photo's rim or a card."""
    change = cv2.magnitude(cv2.Sobel(lightness, cv2.CV_32F, 1, 0), cv2.Sobel(lightness, cv2.CV_32F, 0, 1)) / 4
    found = np.zeros(lightness.shape, np.uint8)
    for evenness in (0.022, 0.06, 0.16):
        clear = cv2.distanceTransform((change < evenness).astype(np.uint8), cv2.DIST_L2, 3)
        count, labels, stats, _ = cv2.connectedComponentsWithStats((clear > 2.4).astype(np.uint8))
        spoilt = set(np.unique(labels[barred > 0]))
        for k in range(1, count):
            if stats[k, cv2.CC_STAT_AREA] > 2000 and k not in spoilt:
                x, y, w, h = stats[k, :4]
                found[y : y + h, x : x + w][labels[y : y + h, x : x + w] == k] = 1
    return found


def border(table, mask):
    """The outline of a mask of 1 mm drawn anew on the pixels of 0.5 mm, by the mean colours within 14 mm on both sides."""
    height, width = mask.shape
    small = cv2.resize(table, (width, height), interpolation=cv2.INTER_AREA).astype(np.float32)
    inner = cv2.erode(mask, np.ones((7, 7), np.uint8)).astype(np.float32)
    outer = 1 - cv2.dilate(mask, np.ones((7, 7), np.uint8)).astype(np.float32)
    means = []
    for side in (inner, outer):
        weight = cv2.blur(side, (29, 29)) + 1e-6
        means.append(cv2.blur(small * side[..., None], (29, 29)) / weight[..., None])
    step = means[0] - means[1]
    size = (table.shape[1], table.shape[0])
    low, direction = cv2.resize(means[1], size), cv2.resize(step / (np.einsum("ijk,ijk->ij", step, step)[..., None] + 1), size)
    place = np.einsum("ijk,ijk->ij", table - low, direction)
    near = cv2.resize(cv2.dilate(mask, np.ones((15, 15), np.uint8)), size)
    sure = cv2.resize(cv2.erode(mask, np.ones((15, 15), np.uint8)), size)
    field = cv2.GaussianBlur(np.where(sure > 0, 1, np.where(near > 0, np.clip(place, 0, 1), 0)).astype(np.float32), (5, 5), 0)
    contours, _ = cv2.findContours((field > 0.5).astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    return max(contours, key=cv2.contourArea, default=None)


def segment(table, low, cards_mm):
    """Paper is what does not look like the table, or is even with a sharp rim; cards are taken out."""
    factor = MM_PER_PX / SEGMENT_MM_PER_PX
    small = cv2.resize(table, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    features = features_of(cv2.medianBlur(small, 3))
    on_card = np.zeros(small.shape[:2], np.uint8)
    for card in cards_mm:
        hull = cv2.convexHull(((card - low) / SEGMENT_MM_PER_PX).astype(np.int32))
        cv2.fillConvexPoly(on_card, hull, 255)
        cv2.polylines(on_card, [hull], True, 255, 60)
    seen = cv2.erode((small.max(2) > 0).astype(np.uint8), np.ones((5, 5), np.uint8))
    ring = (cv2.dilate(on_card, np.ones((31, 31), np.uint8)) > 0) & (on_card == 0)
    rim = cv2.erode(seen, np.ones((37, 37), np.uint8), borderType=cv2.BORDER_CONSTANT, borderValue=0) == 0
    away = table_distance(features, (ring | rim) & (seen > 0))
    mask = ((away > 16) & (seen > 0) & (on_card == 0)).astype(np.uint8)
    mask |= even_areas(features[..., 0], ((on_card > 0) | (seen == 0)).astype(np.uint8))
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8))
    mask = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, np.ones((9, 9), np.uint8))
    contours, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    rows, cols = mask.shape
    whole = []
    for contour in contours:
        x, y, w, h = cv2.boundingRect(contour)
        if cv2.contourArea(contour) < 5000 or x <= 1 or y <= 1 or x + w >= cols - 1 or y + h >= rows - 1:
            continue
        x0, y0, x1, y1 = max(0, x - 30), max(0, y - 30), min(cols, x + w + 30), min(rows, y + h + 30)
        piece = np.zeros((y1 - y0, x1 - x0), np.uint8)
        cv2.drawContours(piece, [contour - (x0, y0)], -1, 1, -1)
        scale = round(1 / factor)
        drawn = border(table[y0 * scale : y1 * scale, x0 * scale : x1 * scale], piece)
        if drawn is not None:
            whole.append((drawn.reshape(-1, 2) + np.array([x0, y0]) * scale) * MM_PER_PX + low)
    return whole


def find_ink(table):
    """Dark ridges about a millimetre wide, linked into strokes."""
    gray = cv2.cvtColor(table, cv2.COLOR_BGR2GRAY).astype(np.float32)
    soft = cv2.GaussianBlur(gray, (0, 0), 1.2)
    xx, yy, xy = (cv2.Sobel(soft, cv2.CV_32F, dx, dy, ksize=3) for dx, dy in ((2, 0), (0, 2), (1, 1)))
    ridge = (xx + yy) / 2 + np.sqrt(((xx - yy) / 2) ** 2 + xy * xy)
    _, _, stats, _ = cv2.connectedComponentsWithStats((ridge > 12).astype(np.uint8), connectivity=8)
    return int(np.count_nonzero(stats[1:, cv2.CC_STAT_AREA] > 40))


def refine(image, outline, camera, distortion, homography):
    """Every half millimetre: the steepest place of the photo's three colours across the outline, by a parabola.

    The places of neighbours may not jump. Returns the outline, and how much the two sides differ along it.
    """
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
        blocks = [cv2.remap(image, maps[i : i + 16000], None, cv2.INTER_LINEAR) for i in range(0, len(maps), 16000)]
        profile = cv2.GaussianBlur(np.vstack(blocks).astype(np.float32), (5, 1), 1.0)
        slope = np.linalg.norm(np.diff(profile, axis=1), axis=2)
        best = np.clip(smooth_path(slope), 1, slope.shape[1] - 2)
        rows = np.arange(len(best))
        a, b, c = slope[rows, best - 1], slope[rows, best], slope[rows, best + 1]
        shift = np.clip((a - c) / np.where(np.abs(a - 2 * b + c) < 1e-6, 1, 2 * (a - 2 * b + c)), -1, 1)
        step = offsets[1] - offsets[0]
        smooth = smooth + normal * (offsets[0] + (best + shift + 0.5) * step)[:, None]
        smooth = np.stack([np.convolve(np.pad(smooth[:, i], 3, "wrap"), np.ones(7) / 7, "valid") for i in (0, 1)], -1)
        sides = np.log(profile[:, -8:].mean(1) + 3) - np.log(profile[:, :8].mean(1) + 3)
    return smooth, np.linalg.norm(sides - np.median(sides, axis=0), axis=1)


def smooth_path(slope):
    """The column of every row on the way down that gathers most slope and moves one column a row at most."""
    gathered = slope.copy()
    came = np.zeros(slope.shape, np.int8)
    for row in range(1, len(slope)):
        before = gathered[row - 1]
        stay = np.stack([np.append(-1e9, before[:-1]), before, np.append(before[1:], -1e9)])
        choice = stay.argmax(0)
        came[row] = choice - 1
        gathered[row] += stay.max(0)
    path = np.zeros(len(slope), int)
    path[-1] = gathered[-1].argmax()
    for row in range(len(slope) - 1, 0, -1):
        path[row - 1] = path[row] + came[row, path[row]]
    return path


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


def find_marks(gray, outline, camera, distortion, homography):
    """Lines and spots inside the piece, and dark or light cuts in a strip along its outline."""
    low, high = outline.min(0), outline.max(0)
    cols, rows = np.ceil((high - low) / MARKS_MM_PER_PX).astype(int)
    inside = np.zeros((rows, cols), np.uint8)
    cv2.fillPoly(inside, [((outline - low) / MARKS_MM_PER_PX).astype(np.int32)], 255)
    patch = sampled(gray, plane_grid(low, rows, cols, MARKS_MM_PER_PX), camera, distortion, homography)
    ink = cv2.morphologyEx(patch, cv2.MORPH_BLACKHAT, np.ones((13, 13), np.uint8))
    light = cv2.morphologyEx(patch, cv2.MORPH_TOPHAT, np.ones((13, 13), np.uint8))
    clear = cv2.erode(inside, np.ones((9, 9), np.uint8))
    _, binary = cv2.threshold(cv2.bitwise_and(ink, clear), 20, 255, cv2.THRESH_BINARY)
    lines = cv2.HoughLinesP(binary, 1, np.pi / 720, 60, minLineLength=80, maxLineGap=12)
    spots = 0
    for kind in (ink, light):
        contours, _ = cv2.findContours((cv2.bitwise_and(kind, clear) > 20).astype(np.uint8), cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
        spots += sum(1 for c in contours if 20 < len(c) < 200 and cv2.contourArea(c) > 0.06 * len(c) ** 2)
    tangent = np.roll(outline, -2, 0) - np.roll(outline, 2, 0)
    normal = np.stack([tangent[:, 1], -tangent[:, 0]], -1)
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-9)
    across = np.arange(-8, 8, MARKS_MM_PER_PX)
    strip = sampled(gray, outline[:, None] + normal[:, None] * across[None, :, None], camera, distortion, homography)
    cuts = cv2.morphologyEx(strip, cv2.MORPH_BLACKHAT, np.ones((9, 1), np.uint8))
    contours, _ = cv2.findContours((cuts > 20).astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    ticks = [c for c in contours if max(cv2.minAreaRect(c)[1]) > 10]
    return 0 if lines is None else len(lines), spots, len(ticks)


def plane_grid(low, rows, cols, mm_per_px):
    xs, ys = np.meshgrid(low[0] + np.arange(cols) * mm_per_px, low[1] + np.arange(rows) * mm_per_px)
    return np.stack([xs, ys], -1)


def sampled(image, points, camera, distortion, homography):
    """The photo at points of the table, rows x columns; in blocks, because OpenCV's maps may not be higher than 32767."""
    rows, cols = points.shape[:2]
    out = []
    for i in range(0, rows, 1000):
        part = points[i : i + 1000].reshape(-1, 1, 2).astype(np.float32)
        maps = distort(cv2.perspectiveTransform(part, homography).reshape(-1, 2), camera, distortion)
        out.append(cv2.remap(image, maps.astype(np.float32).reshape(-1, cols, 2), None, cv2.INTER_LINEAR))
    return np.vstack(out)


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
    find_ink(table)
    clock = lap("ink", clock)
    for piece in pieces:
        outline, _ = refine(image, piece, camera, distortion, homography)
        clock = lap("outline", clock)
        split_corners(outline)
        clock = lap("corners", clock)
        find_marks(gray, outline, camera, distortion, homography)
        clock = lap("marks", clock)
    cv2.imencode(".jpg", table, [cv2.IMWRITE_JPEG_QUALITY, 82])
    lap("keep", clock)
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

// All orders but 0 of all gratings, of the lamp: core/reference/shade-orders.ts.
// Fewest samples in a band, and the widest stratum, nm.
uniform float uBandSamples;
uniform float uBandStep;

const float tau = 2.0 * PI;

// Strata of equal width of one order's band: the light of each from the cumulative table, all else at its middle.
// `bell` is the Gaussian in the first; each next one is the one before times a ratio that itself falls by a factor.
vec3 strata(
  int count, bool inked, float x, float at, float stride,
  float bell, float ratio, float fall, int row, float phase, float vector
) {
  vec3 sum = vec3(0.0);
  vec3 left = between(uCumulative, at, 0).rgb;
  for (int k = 0; k < count; k++) {
    at += stride;
    vec3 right = between(uCumulative, at, 0).rgb;
    float offset = at - 0.5 * stride;
    float wavelength = FIRST_WAVELENGTH + offset;
    float share = between(uEfficiency, min(phase / wavelength, float(PHASE_COLUMNS - 1)), row).r;
    float factor = bell * share * (1.0 + vector * wavelength * wavelength);
    if (inked) factor *= inkAlong(offset, x);
    sum += factor * (right - left);
    left = right;
    bell *= ratio;
    ratio *= fall;
  }
  return sum;
}

// One order's band.
vec3 band(
  Grating grating, int m, float opticalDepth, float x,
  float from, float to, float middle, float deviation, float weight
) {
  int row = grating.shape == SHAPE_BLAZED
    ? ROW_BLAZED + m + MAX_ORDER
    : (grating.shape == SHAPE_SINUSOID ? ROW_SINUSOID : ROW_RECTANGULAR) + abs(m);
  float samples = max(uBandSamples, ceil((to - from) / uBandStep));
  float stride = (to - from) / samples;
  float phase = tau * opticalDepth * (float(PHASE_COLUMNS - 1) / MAX_PHASE);
  float reach = float(m) / (uCoat * grating.pitch);
  float vector = grating.shape == SHAPE_SINUSOID ? 0.5 * reach * reach : 0.0;
  float z = stride / deviation;
  float z0 = (from + 0.5 * stride - middle) / deviation;
  float bell = weight * exp(-0.5 * z0 * z0) / (deviation * sqrt(tau));
  float ratio = exp(-z * (z0 + 0.5 * z));
  float fall = exp(-z * z);
  float at = from - FIRST_WAVELENGTH;
  int count = int(samples);
  // Two loops: where all places are clear, a processor without real branches then runs the inks once, not a dozen times.
  return strata(clearPrint ? count : 0, false, x, at, stride, bell, ratio, fall, row, phase, vector)
    + strata(clearPrint ? 0 : count, true, x, at, stride, bell, ratio, fall, row, phase, vector);
}

// Orders of one grating; x between and beyond the slants, q = q_l + q_v.
vec3 ordersOf(Grating grating, float x, float q, float scale) {
  vec3 h = site.lamp + site.eye;
  vec2 g = grating.direction;
  float u = dot(h.xy, g);
  float w = h.y * g.x - h.x * g.y;
  float waves = uWavinessVariance * h.z * h.z;
  float base = site.lampVariance + site.eyeVariance + waves + uCellVariance.y;
  // No order's kernel is wider than this, and most places are dark.
  float farthest = float(MAX_ORDER) * LAST_WAVELENGTH * grating.spreadAcross;
  if (w * w > KERNEL_REACH * KERNEL_REACH * (base + farthest * farthest)) return vec3(0.0);
  float lampU = dot(site.lamp.xy, g);
  float lampW = site.lamp.y * g.x - site.lamp.x * g.y;
  float eyeU = dot(site.eye.xy, g);
  float eyeW = site.eye.y * g.x - site.eye.x * g.y;
  float uu = site.lampVariance * (1.0 - lampU * lampU) + site.eyeVariance * (1.0 - eyeU * eyeU) + waves
    + uCellVariance.x;
  float uw = -site.lampVariance * lampU * lampW - site.eyeVariance * eyeU * eyeW;
  float ww = site.lampVariance * (1.0 - lampW * lampW) + site.eyeVariance * (1.0 - eyeW * eyeW) + waves
    + uCellVariance.y;
  // Orders that could meet the visible, however their blur turns out; most places see one or none.
  float side = u < 0.0 ? -1.0 : 1.0;
  float leaning = abs(uw / ww * w);
  float reach = leaning + BAND_REACH * (sqrt(uu) + float(MAX_ORDER) * LAST_WAVELENGTH * grating.spreadAlong);
  float nearest = grating.pitch * (abs(u) - reach);
  float most = float(MAX_ORDER);
  int first = int(clamp(nearest / (nearest < 0.0 ? FIRST_WAVELENGTH : LAST_WAVELENGTH), -most, most));
  int last = int(min(grating.pitch * (abs(u) + reach) / FIRST_WAVELENGTH, most));
  vec3 sum = vec3(0.0);
  for (int n = first; n <= last; n++) {
    if (n == 0) continue;
    int m = int(side) * n;
    float order = float(m);
    float magnified = order * clamp(grating.pitch * u / order, FIRST_WAVELENGTH, LAST_WAVELENGTH);
    float along = magnified * grating.spreadAlong;
    float across = magnified * grating.spreadAcross;
    float variance = ww + across * across;
    if (w * w > KERNEL_REACH * KERNEL_REACH * variance) continue;
    float slope = uw / variance;
    float middle = grating.pitch / order * (u - w * slope);
    float size = grating.pitch / abs(order);
    float deviation = size * sqrt(uu + along * along - uw * slope);
    float from = max(FIRST_WAVELENGTH, middle - BAND_REACH * deviation);
    float to = min(LAST_WAVELENGTH, middle + BAND_REACH * deviation);
    if (from >= to) continue;
    float weight = scale * grating.share * size * exp(-0.5 * w * w / variance) / sqrt(tau * variance);
    sum += band(grating, m, grating.depth * q, x, from, to, middle, deviation, weight);
  }
  return sum;
}

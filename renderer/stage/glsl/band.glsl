// Light of one order's band: core/reference/shade-band.ts.
// Fewest samples in a band, and the widest stratum, nm.
uniform float uBandSamples;
uniform float uBandStep;

// Strata of equal width of one order's band: the light of each from the cumulative table, all else at its middle.
// `bell` is the Gaussian in the first; each next one is the one before times a ratio that itself falls by a factor.
// `held` is 1 over the cap, straight along the band.
vec3 strata(
  int count, bool inked, float x, float at, float stride,
  float bell, float ratio, float fall, vec2 held, int row, float phase, float lift
) {
  vec3 sum = vec3(0.0);
  vec3 left = lightUpTo(at);
  // Neighbours share the ink columns between which they lie.
  int column = -2;
  vec2 low = vec2(0.0);
  vec2 high = vec2(0.0);
  for (int k = 0; k < count; k++) {
    at += stride;
    vec3 right = lightUpTo(at);
    float offset = at - 0.5 * stride;
    float wavelength = FIRST_WAVELENGTH + offset;
    float share = between(uEfficiency, min(phase / wavelength, float(PHASE_COLUMNS - 1)), row).r;
    float factor = bell * held.x * share * (1.0 + lift * wavelength * wavelength);
    if (inked) {
      float node = offset / INK_STEP;
      int n = min(int(node), INK_COLUMNS - 2);
      if (n != column) {
        low = n == column + 1 ? high : inkNode(n);
        high = inkNode(n + 1);
        column = n;
      }
      vec2 along = mix(low, high, node - float(n));
      factor *= betweenSlants(along.xxx, along.yyy, x).x;
    }
    sum += factor * (right - left);
    left = right;
    bell *= ratio;
    ratio *= fall;
    held.x += held.y;
  }
  return sum;
}

vec3 band(
  Grating grating, int m, float q, float x,
  float from, float to, float middle, float deviation, float weight
) {
  int row = grating.groove * GROOVE_ROWS + MAX_ORDER + m;
  float samples = max(uBandSamples, ceil((to - from) / uBandStep));
  float stride = (to - from) / samples;
  float phase = tau * grating.depth * q * phaseScale;
  vec2 groove = uGrooves[grating.groove];
  float reach = float(m) / (uCoat * grating.pitch);
  float lift = groove.x * reach * reach;
  vec2 held = vec2(1.0, 0.0);
  if (grating.pitch < groove.y) {
    float first = 1.0 / cap(grating, from);
    held.y = (1.0 / cap(grating, to) - first) / samples;
    held.x = first + 0.5 * held.y;
  }
  float z = stride / deviation;
  float z0 = (from + 0.5 * stride - middle) / deviation;
  weight *= smoothness(q, 0.5 * (from + to));
  float bell = weight * exp(-0.5 * z0 * z0) / (deviation * sqrt(tau));
  float ratio = exp(-z * (z0 + 0.5 * z));
  float fall = exp(-z * z);
  float at = from - FIRST_WAVELENGTH;
  int count = int(samples);
  // Two loops: where all places are clear, a processor without real branches then runs the inks once, not a dozen times.
  return strata(clearPrint ? count : 0, false, x, at, stride, bell, ratio, fall, held, row, phase, lift)
    + strata(clearPrint ? 0 : count, true, x, at, stride, bell, ratio, fall, held, row, phase, lift);
}

// Light of one order's band: core/reference/shade-band.ts.
// Fewest samples in a band, and the widest stratum, nm.
uniform float uBandSamples;
uniform float uBandStep;

// Share and vector factor of one row of the efficiency table.
float powerAt(float wavelength, int row, float phase, float lift) {
  float share = between(uEfficiency, PHASE_COLUMNS, min(phase / wavelength, float(PHASE_COLUMNS - 1)), row).r;
  return share * (1.0 + lift * wavelength * wavelength);
}

// Strata of equal width of one order's band: the light of each from the cumulative table, all else at its middle.
// `bell` is the Gaussian in the first; each next one is the one before times a ratio that itself falls by a factor.
// `held` is 1 over the cap at the beginning, and its growth over half a stretch; the power along a stretch of strata is
// a parabola through beginning, middle and end.
vec3 strata(
  int stretches, bool inked, float x, float at, float stride,
  float bell, float ratio, float fall, vec2 held, int row, float phase, float lift
) {
  vec3 sum = vec3(0.0);
  vec3 left = lightUpTo(at);
  const float stretch = float(BAND_STRETCH);
  float size = stride * stretch;
  float power = held.x * powerAt(FIRST_WAVELENGTH + at, row, phase, lift);
  for (int i = 0; i < stretches; i++) {
    float wavelength = FIRST_WAVELENGTH + at;
    float middle = (held.x + held.y) * powerAt(wavelength + 0.5 * size, row, phase, lift);
    held.x += 2.0 * held.y;
    float end = held.x * powerAt(wavelength + size, row, phase, lift);
    float b = (4.0 * middle - 3.0 * power - end) / stretch;
    float c = 2.0 * (power - 2.0 * middle + end) / (stretch * stretch);
    float along = power + 0.5 * b + 0.25 * c;
    float slope = b + 2.0 * c;
    float bend = 2.0 * c;
    power = end;
    for (int k = 0; k < BAND_STRETCH; k += 2) {
      // Inks change little from one stratum to the next, and take longer to look up than all else: two have one.
      float ink = inked ? inkBetween(inkAt(at + stride), x) : 1.0;
      for (int j = 0; j < 2; j++) {
        at += stride;
        vec3 right = lightUpTo(at);
        sum += bell * along * ink * (right - left);
        left = right;
        bell *= ratio;
        ratio *= fall;
        along += slope;
        slope += bend;
      }
    }
  }
  return sum;
}

vec3 band(
  Grating grating, int m, float q, float x,
  float from, float to, float middle, float deviation, float weight
) {
  int row = grating.groove * GROOVE_ROWS + MAX_ORDER + m;
  float stretches = ceil(max(uBandSamples, (to - from) / uBandStep) / float(BAND_STRETCH));
  float stride = (to - from) / (stretches * float(BAND_STRETCH));
  float phase = tau * grating.depth * q * phaseScale;
  vec2 groove = uGrooves[grating.groove];
  float reach = float(m) / (uCoat * grating.pitch);
  float lift = groove.x * reach * reach;
  vec2 held = vec2(1.0, 0.0);
  if (grating.pitch < groove.y) {
    held.x = 1.0 / cap(grating, from);
    held.y = (1.0 / cap(grating, to) - held.x) / (2.0 * stretches);
  }
  float z = stride / deviation;
  float z0 = (from + 0.5 * stride - middle) / deviation;
#if HAZE == 1
  weight *= smoothness(q, 0.5 * (from + to));
#endif
  float bell = weight * exp(-0.5 * z0 * z0) / (deviation * sqrt(tau));
  float ratio = exp(-z * (z0 + 0.5 * z));
  float fall = exp(-z * z);
  float at = from - FIRST_WAVELENGTH;
  int count = int(stretches);
#ifdef DIRECT
  return strata(count, !clearPrint, x, at, stride, bell, ratio, fall, held, row, phase, lift);
#else
  // Two loops: where all places are clear, a processor without real branches then runs the inks once, not a dozen times.
  return strata(clearPrint ? count : 0, false, x, at, stride, bell, ratio, fall, held, row, phase, lift)
    + strata(clearPrint ? 0 : count, true, x, at, stride, bell, ratio, fall, held, row, phase, lift);
#endif
}

// What belongs to a grating's groove and its metal: core/optics/cap.ts, core/reference/smoothness.ts.
// Of every groove: what (m lambda / n d)^2 counts, and the pitch from which it needs no cap.
uniform vec2 uGrooves[GROOVES];
// 0 without roughness.
uniform float uHazeSteepness;

const float tau = 2.0 * PI;
const float phaseScale = float(PHASE_COLUMNS - 1) / MAX_PHASE;

// What all shares of a groove are divided by at a wavelength.
float cap(Grating grating, float wavelength) {
  if (grating.pitch >= uGrooves[grating.groove].y) return 1.0;
  float column = min(2.0 * tau * uCoat * grating.depth / wavelength * phaseScale, float(PHASE_COLUMNS - 1));
  float row = min(wavelength / (uCoat * grating.pitch * CAP_STEP), float(CAP_ROWS - 1));
  int y = min(int(row), CAP_ROWS - 2);
  int first = grating.groove * GROOVE_ROWS + ORDER_ROWS + y;
  float lower = between(uEfficiency, PHASE_COLUMNS, column, first).r;
  return lower + (row - float(y)) * (between(uEfficiency, PHASE_COLUMNS, column, first + 1).r - lower);
}

// What orders at q keep over what those straight on keep, which the tables hold.
float smoothness(float q, float wavelength) {
  float part = HAZE_WAVELENGTH / wavelength;
  return exp(uHazeSteepness * part * part * (4.0 * uCoat * uCoat - q * q));
}

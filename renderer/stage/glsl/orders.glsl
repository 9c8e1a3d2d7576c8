// All orders but 0 of all gratings, of the lamp: core/reference/shade-orders.ts.
// What blurs every order across the grooves.
float acrossAll(float waviness) {
  float z = site.lamp.z + site.eye.z;
  return 2.0 * site.lampVariance + site.eyeVariance + waviness * z * z + uCellVariance.y;
}

// Whether a direction `w` off the plane across the grooves may see any order: no kernel is wider than this.
bool ordersNear(Grating grating, float w, float base) {
  float farthest = float(MAX_ORDER) * LAST_WAVELENGTH * grating.spreadAcross;
  return w * w <= KERNEL_REACH * KERNEL_REACH * (base + farthest * farthest);
}

// Of any grating; most places under most lamps are dark.
bool anyOrderNear() {
  vec2 h = site.lamp.xy + site.eye.xy;
  float base = acrossAll(uWavinessVariances[COATED_PARTS - 1]);
  for (int i = 0; i < uChannels; i++) {
    if (!mayHaveGrating(i)) continue;
    Grating grating = gratingAt(i);
    vec2 g = grating.direction;
    if (grating.share > 0.0 && ordersNear(grating, h.y * g.x - h.x * g.y, base)) return true;
  }
  return false;
}

// Orders of one grating; x between and beyond the slants, q = q_l + q_v.
vec3 ordersOf(Grating grating, float x, float q, float scale) {
  if (grating.share <= 0.0) return vec3(0.0);
  vec3 h = site.lamp + site.eye;
  vec2 g = grating.direction;
  float u = dot(h.xy, g);
  float w = h.y * g.x - h.x * g.y;
  float waves = site.waviness * h.z * h.z;
  if (!ordersNear(grating, w, acrossAll(site.waviness))) return vec3(0.0);
  float eyeU = dot(site.eye.xy, g);
  float eyeW = site.eye.y * g.x - site.eye.x * g.y;
  vec3 lamp = site.lampBlur;
  float lampUU = lamp.x * g.x * g.x + 2.0 * lamp.y * g.x * g.y + lamp.z * g.y * g.y;
  float uu = lampUU + site.eyeVariance * (1.0 - eyeU * eyeU) + waves + uCellVariance.x;
  float uw = (lamp.z - lamp.x) * g.x * g.y + lamp.y * (g.x * g.x - g.y * g.y) - site.eyeVariance * eyeU * eyeW;
  float ww = lamp.x + lamp.z - lampUU + site.eyeVariance * (1.0 - eyeW * eyeW) + waves + uCellVariance.y;
  // Orders that could meet the visible, however their blur turns out; most places see one or none.
  float side = u < 0.0 ? -1.0 : 1.0;
  // The slope lies between that of the scene and that of the spread alone.
  float covariance = grating.spreadCovariance;
  float steepest = covariance == 0.0
    ? 0.0 : abs(covariance) / (grating.spreadAcross * grating.spreadAcross);
  float leaning = max(abs(uw / ww), steepest) * abs(w);
  float reach = leaning + BAND_REACH_WIDE * (sqrt(uu) + float(MAX_ORDER) * LAST_WAVELENGTH * grating.spreadAlong);
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
    float tilted = uw + magnified * magnified * covariance;
    float slope = tilted / variance;
    float middle = grating.pitch / order * (u - w * slope);
    float size = grating.pitch / abs(order);
    float deviation = size * sqrt(uu + along * along - tilted * slope);
    float wide = clamp((deviation - BAND_WIDENS.x) / (BAND_WIDENS.y - BAND_WIDENS.x), 0.0, 1.0);
    float reachHere = deviation * mix(BAND_REACH, BAND_REACH_WIDE, wide);
    float from = max(FIRST_WAVELENGTH, middle - reachHere);
    float to = min(LAST_WAVELENGTH, middle + reachHere);
    if (from >= to) continue;
    float weight = scale * grating.share * size * exp(-0.5 * w * w / variance) / sqrt(tau * variance);
    sum += band(grating, m, q, x, from, to, middle, deviation, weight);
  }
  return sum;
}

vec3 allOrders(float x, float q, float scale) {
  vec3 sum = vec3(0.0);
  for (int i = 0; i < uChannels; i++) if (mayHaveGrating(i)) sum += ordersOf(gratingAt(i), x, q, scale);
  return sum;
}

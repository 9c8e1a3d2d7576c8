// Light of a wide lamp in orders, mirror and gloss: core/reference/shade-wide.ts.

// One order, wavelength by wavelength along its line of directions.
vec3 wideLine(Grating grating, int m, float cosEye, float scale, float from, float to, float eyeU, float eyeW) {
  vec2 g = grating.direction;
  float w = -eyeW;
  float order = float(m);
  float samples = max(uBandSamples, ceil((to - from) / uBandStep));
  float stride = (to - from) / samples;
  float across = stride / grating.pitch * order;
  float base = across * across / 12.0;
  float uwEye = -site.eyeVariance * eyeU * eyeW;
  vec3 sum = vec3(0.0);
  float at = from - FIRST_WAVELENGTH;
  vec3 left = lightUpTo(at);
  for (int k = 0; k < int(samples); k++) {
    float offset = at + 0.5 * stride;
    at += stride;
    vec3 right = lightUpTo(at);
    vec3 light = right - left;
    left = right;
    float wavelength = FIRST_WAVELENGTH + offset;
    float u = order * wavelength / grating.pitch - eyeU;
    float z2 = 1.0 - u * u - w * w;
    if (z2 <= 0.0) continue;
    vec3 l = vec3(u * g.x - w * g.y, u * g.y + w * g.x, sqrt(z2));
    float height = l.z + site.eye.z;
    float waves = site.waviness * height * height;
    vec2 spread = order * wavelength * vec2(grating.spreadAlong, grating.spreadAcross);
    float uu = site.eyeVariance * (1.0 - eyeU * eyeU) + waves + uCellVariance.x + base + spread.x * spread.x;
    float uw = uwEye + order * order * wavelength * wavelength * grating.spreadCovariance;
    float ww = site.eyeVariance * (1.0 - eyeW * eyeW) + waves + uCellVariance.y + spread.y * spread.y;
    float seen = softShare(l, vec3(
      uu * g.x * g.x - 2.0 * uw * g.x * g.y + ww * g.y * g.y,
      (uu - ww) * g.x * g.y + uw * (g.x * g.x - g.y * g.y),
      uu * g.y * g.y + 2.0 * uw * g.x * g.y + ww * g.x * g.x
    ));
    if (seen <= 0.0) continue;
    float cosLamp = refracted(l.z);
    float slant = 1.0 / cosLamp + 1.0 / cosEye;
    float factor = scale * seen * (1.0 - fresnel(l.z, uCoat)) * sqrt(metalAngle(cosLamp))
      * straightThrough(slant) * orderPower(grating, m, wavelength, uCoat * (cosLamp + cosEye));
    if (!clearPrint) factor *= inkBetween(inkAt(offset), (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST));
    sum += factor * light;
  }
  return sum;
}

vec3 wideOrders(Grating grating, float cosEye, float scale) {
  vec2 g = grating.direction;
  float eyeU = dot(site.eye.xy, g);
  float eyeW = site.eye.y * g.x - site.eye.x * g.y;
  float spread = min(float(MAX_ORDER) * LAST_WAVELENGTH, 2.0 * grating.pitch)
    * max(grating.spreadAlong, grating.spreadAcross);
  float height = site.eye.z + 1.0;
  float widest = sqrt(site.eyeVariance + site.waviness * height * height
    + max(uCellVariance.x, uCellVariance.y) + spread * spread);
  if (grating.share <= 0.0 || eyeW * eyeW >= 1.0) return vec3(0.0);
  vec2 span = meets(g, -eyeW, marginOf(widest));
  if (span.x >= span.y) return vec3(0.0);
  vec3 sum = vec3(0.0);
  for (int m = -MAX_ORDER; m <= MAX_ORDER; m++) {
    if (m == 0) continue;
    vec2 ends = (span + eyeU) * grating.pitch / float(m);
    float from = max(FIRST_WAVELENGTH, min(ends.x, ends.y));
    float to = min(LAST_WAVELENGTH, max(ends.x, ends.y));
    if (from >= to) continue;
    sum += wideLine(grating, m, cosEye, scale * grating.share, from, to, eyeU, eyeW);
  }
  return sum;
}

vec3 wideMirror(float cosEye, float scale) {
  vec3 v = site.eye;
  vec3 l = vec3(-v.xy, v.z);
  float waves = site.waviness * 4.0 * v.z * v.z;
  vec3 blur = site.eyeVariance * vec3(1.0 - v.x * v.x, -v.x * v.y, 1.0 - v.y * v.y) + vec3(waves, 0.0, waves);
  float slant = 2.0 / cosEye;
  float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
  float passing = scale * (1.0 - fresnel(v.z, uCoat)) * sqrt(metalAngle(cosEye)) * straightThrough(slant)
    * smoothness(2.0 * uCoat * cosEye, HAZE_WAVELENGTH);
  vec3 sum = vec3(0.0);
  float bare = 1.0;
  for (int i = 0; i < uChannels; i++) {
    if (!mayHaveGrating(i)) continue;
    Grating grating = gratingAt(i);
    float share = grating.share;
    vec2 g = grating.direction;
    bare -= share;
    if (share <= 0.0) continue;
    float k = softShare(l, blur + vec3(
      uCellVariance.x * g.x * g.x + uCellVariance.y * g.y * g.y,
      (uCellVariance.x - uCellVariance.y) * g.x * g.y,
      uCellVariance.x * g.y * g.y + uCellVariance.y * g.x * g.x
    ));
    if (k > 0.0) sum += share * k * orderZero(grating, 2.0 * uCoat * cosEye, x);
  }
  float k = bare > 0.0 ? softShare(l, blur) : 0.0;
  if (k > 0.0) sum += bare * k * plainMirror(x);
  return passing * sum;
}

// The lamp's image in a top surface, smoothed by its lobe, over the lamp's scale.
float wideLobe(float variance) {
  vec3 v = site.eye;
  float blur = 2.0 * v.z * v.z * variance + site.eyeVariance;
  float reached = unshadowed(v.z, variance);
  return fresnel(v.z, uCoat) * reached * reached * softShare(vec3(-v.xy, v.z), vec3(blur, 0.0, blur));
}

// The wide lamp as if it were a point with a blur.
void aimWideAsPoint(float scale) {
  site.lamp = area.toward;
  site.irradiance = scale * area.light;
  vec3 a = area.across - dot(area.across, area.toward) * area.toward;
  vec3 b = area.up - dot(area.up, area.toward) * area.toward;
  float mean = (dot(a, a) + dot(b, b)) / ((area.round ? 8.0 : 6.0) * dot(area.middle, area.middle));
  site.lampBlur = vec3(mean, 0.0, mean);
  site.lampVariance = mean;
}

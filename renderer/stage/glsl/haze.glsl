// What the metal's own roughness takes from the orders: core/reference/shade-haze.ts and smoothness.ts.
// 0 without roughness.
uniform vec3 uHaze[SETS];
uniform float uHazeVariance;

float hazeGrowth(float q) {
  return (1.0 - exp(-uHazeSteepness * q * q)) / (1.0 - exp(-uHazeSteepness * 4.0 * uCoat * uCoat));
}

// N(h; 0, covariance) in two dimensions.
float kernel(vec2 h, float xx, float xy, float yy) {
  float determinant = xx * yy - xy * xy;
  float exponent = (yy * h.x * h.x - 2.0 * xy * h.x * h.y + xx * h.y * h.y) / (2.0 * determinant);
  return exponent > NOTHING ? 0.0 : exp(-exponent) / (tau * sqrt(determinant));
}

float hazeLevel(float cosine) {
  return between(uMetalAngle, ANGLE_COLUMNS, angleColumn(cosine), 1).r;
}

#if HAZE == 1
// Of the lamp that the site is set for, over its irradiance; `scale` as for the mirror.
vec3 haze(float cosLamp, float cosEye, float x, float scale) {
  vec3 h = site.lamp + site.eye;
  float wide = uHazeVariance + site.waviness * h.z * h.z;
  float xx = site.lampBlur.x + site.eyeVariance * (1.0 - site.eye.x * site.eye.x) + wide;
  float xy = site.lampBlur.y - site.eyeVariance * site.eye.x * site.eye.y;
  float yy = site.lampBlur.z + site.eyeVariance * (1.0 - site.eye.y * site.eye.y) + wide;
  float near = kernel(h.xy, xx, xy, yy);
  if (near == 0.0) return vec3(0.0);
  float level = hazeLevel(cosLamp) * hazeLevel(cosEye);
  float growth = hazeGrowth(uCoat * (cosLamp + cosEye));
  // Row 0 is the clear mirror in any groove.
  return scale * near * level * growth * uHaze[lightSet] * (plainMirror(x) / texelFetch(uOrderZero, ivec2(0, zeroRow()), 0).rgb);
}
#endif

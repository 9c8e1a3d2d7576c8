// Light towards the eye, X, Y, Z in units of perfect white under the lamp: core/reference/shade.ts, step by step.
uniform vec3 uRoomUp;
uniform float uRoomLevel;

// Reflectance of the metal at an angle over that straight on.
float metalAngle(float cosine) {
  float last = float(textureSize(uMetalAngle, 0).x - 1);
  return between(uMetalAngle, (cosine - uCosGrazing) / (1.0 - uCosGrazing) * last, 0).r;
}

float kernel(vec2 h, float xx, float xy, float yy) {
  float determinant = xx * yy - xy * xy;
  float exponent = (yy * h.x * h.x - 2.0 * xy * h.x * h.y + xx * h.y * h.y) / (2.0 * determinant);
  return exponent > NOTHING ? 0.0 : exp(-exponent) / (tau * sqrt(determinant));
}

// Order 0 of the gratings and the mirror between them, of the lamp.
vec3 mirror(float x, float q, float scale) {
  vec3 h = site.lamp + site.eye;
  float lamp = site.lampVariance;
  float eye = site.eyeVariance;
  float waves = uWavinessVariance * h.z * h.z;
  float widest = lamp + eye + waves + max(uCellVariance.x, uCellVariance.y);
  if (dot(h.xy, h.xy) > 2.0 * NOTHING * widest) return vec3(0.0);
  float xx = lamp * (1.0 - site.lamp.x * site.lamp.x) + eye * (1.0 - site.eye.x * site.eye.x) + waves;
  float xy = -lamp * site.lamp.x * site.lamp.y - eye * site.eye.x * site.eye.y;
  float yy = lamp * (1.0 - site.lamp.y * site.lamp.y) + eye * (1.0 - site.eye.y * site.eye.y) + waves;
  vec3 sum = vec3(0.0);
  float bare = 1.0;
  for (int i = 0; i < CHANNELS; i++) {
    float share = gratings[i].share;
    vec2 g = gratings[i].direction;
    bare -= share;
    float k = share * kernel(
      h.xy,
      xx + uCellVariance.x * g.x * g.x + uCellVariance.y * g.y * g.y,
      xy + (uCellVariance.x - uCellVariance.y) * g.x * g.y,
      yy + uCellVariance.x * g.y * g.y + uCellVariance.y * g.x * g.x
    );
    if (k > 0.0) sum += k * orderZero(gratings[i], q, x);
  }
  if (bare > 0.0) sum += bare * kernel(h.xy, xx, xy, yy) * plainMirror(x);
  return scale * sum;
}

// Smith's share of the top surface that a ray reaches: core/optics/gloss.ts.
float unshadowed(float cosine, float variance) {
  float a2 = cosine * cosine / ((1.0 - cosine * cosine) * variance + 1e-30);
  if (a2 >= SMITH_REACH) return 1.0;
  float a = sqrt(a2);
  return (SMITH_A * a + SMITH_B * a2) / (1.0 + SMITH_C * a + SMITH_D * a2);
}

// Top surface over perfect white.
float gloss(float variance) {
  vec3 h = site.lamp + site.eye;
  float z2 = h.z * h.z;
  float side2 = dot(h.xy, h.xy);
  float blurred = variance + 2.0 * (site.lampVariance + site.eyeVariance) / z2;
  float exponent = side2 / z2 / blurred;
  if (exponent > NOTHING) return 0.0;
  float length2 = side2 + z2;
  float cos2 = z2 / length2;
  float density = exp(-exponent) / (PI * blurred * cos2 * cos2);
  float shadowing = unshadowed(site.lamp.z, blurred) * unshadowed(site.eye.z, blurred);
  return PI * fresnel(0.5 * sqrt(length2), uCoat) * density * shadowing / (4.0 * site.lamp.z * site.eye.z);
}

vec3 underLamp(inout vec3 diffuse) {
  float cosLamp = sqrt(1.0 - (1.0 - site.lamp.z * site.lamp.z) / (uCoat * uCoat));
  float cosEye = sqrt(1.0 - (1.0 - site.eye.z * site.eye.z) / (uCoat * uCoat));
  float slant = 1.0 / cosLamp + 1.0 / cosEye;
  float entering = 1.0 - fresnel(site.lamp.z, uCoat);
  vec3 sum = vec3(0.0);
  if (site.metal > 0.0) {
    float passing = site.metal * entering * (1.0 - fresnel(site.eye.z, uCoat)) * straightThrough(slant);
    if (passing > 0.0) {
      float scale = PI * passing * sqrt(metalAngle(cosLamp) * metalAngle(cosEye));
      float q = uCoat * (cosLamp + cosEye);
      float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
      for (int i = 0; i < CHANNELS; i++) sum += ordersOf(gratings[i], x, q, scale);
      sum += mirror(x, q, scale);
    }
  }
  diffuse += site.irradiance * scattered(slant, entering);
  sum += mix(gloss(uGlossVariance.x), gloss(uGlossVariance.y), site.varnish) * uWhite;
  return site.irradiance * sum;
}

// The room: in the mirror order by direction; in the other orders and on what scatters by its mean.
vec3 underRoom(inout vec3 diffuse) {
  float glossy = fresnel(site.eye.z, uCoat);
  float c = dot(uRoomUp, vec3(-site.eye.xy, site.eye.z));
  float k = uRoomUp.z;
  float image = uRoomLevel * (ROOM_FLOOR + (1.0 - ROOM_FLOOR) * 0.25 * (1.0 + c) * (1.0 + c));
  float mean = uRoomLevel * (ROOM_FLOOR + (1.0 - ROOM_FLOOR) * 0.25 * (1.0 + 4.0 / 3.0 * k + (1.0 + k * k) / 4.0));
  float cosEye = sqrt(1.0 - (1.0 - site.eye.z * site.eye.z) / (uCoat * uCoat));
  float slant = 2.0 / cosEye;
  vec3 sum = glossy * image * uWhite;
  diffuse += mean * scattered(slant, uEvenlyEntering);
  if (site.metal > 0.0) {
    float scale = site.metal * (1.0 - glossy) * (1.0 - glossy) * straightThrough(slant) * metalAngle(cosEye);
    float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
    float bare = 1.0;
    for (int i = 0; i < CHANNELS; i++) bare -= gratings[i].share;
    vec3 all = plainMirror(x);
    vec3 order0 = max(0.0, bare) * all;
    for (int i = 0; i < CHANNELS; i++)
      order0 += gratings[i].share * orderZero(gratings[i], 2.0 * uCoat * cosEye, x);
    sum += scale * (order0 * image + (all - order0) * mean);
  }
  return sum;
}

vec3 shade() {
  if (site.eye.z <= 0.0) return vec3(0.0);
  preparePrint();
  vec3 sum = vec3(0.0);
  vec3 diffuse = vec3(0.0);
  if (site.lamp.z > 0.0 && site.irradiance > 0.0) sum += underLamp(diffuse);
  if (uRoomLevel > 0.0) sum += underRoom(diffuse);
  return sum + diffuse * scatteredFactor(diffuse != vec3(0.0)) * uWhite;
}

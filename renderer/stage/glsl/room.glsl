// The room, by direction in every order: core/reference/shade-room.ts.
#if ROOM == 1
uniform vec3 uRoomUp;
uniform float uRoomLevel;
// Strata of the spectrum; they divide the steps between ink columns. None while a hand moves: the orders but 0 then show
// the room's mean.
uniform int uRoomStrata;
// Samples of a pixel share the strata: each takes its own, from the first on by so many, and they stand for all.
uniform int uRoomFirst;
uniform int uRoomShare;

float roomRadiance(float cosine) {
  return ROOM_FLOOR + (1.0 - ROOM_FLOOR) * 0.25 * (1.0 + cosine) * (1.0 + cosine);
}

// Between two slants as betweenSlants, for light, which may be 0.
vec3 lightBetween(vec3 f0, vec3 f1, float x) {
  vec3 below = (1.0 + x) * f0 + (1.0 - x) * f1;
  vec3 between = f0 * ((1.0 - x) * f0 + (1.0 + x) * f1) / max(below, vec3(1e-20));
  return mix(vec3(0.0), between, greaterThan(f0, vec3(0.0)));
}

#ifndef DIRECT
// Light of a stratum through the inks at both slants: each column stands for the half steps around it.
void stratumInks(float first, float last, out vec3 inkFirst, out vec3 inkSecond) {
  inkFirst = vec3(0.0);
  inkSecond = vec3(0.0);
  vec3 left = lightUpTo(first);
  for (float at = first; at <= last; at += INK_STEP) {
    vec3 right = lightUpTo(min(at + 0.5 * INK_STEP, last));
    vec2 ink = inkAt(at);
    inkFirst += ink.x * (right - left);
    inkSecond += ink.y * (right - left);
    left = right;
  }
}

// All orders but 0 of a grating, over the level. A picture of one sample is for the hand and shows their mean: a graphics
// card would run the whole shader slower for having this in it.
vec3 roomOrders(Grating grating, float cosEye) {
  float stratum = (LAST_WAVELENGTH - FIRST_WAVELENGTH) / float(uRoomStrata);
  vec3 sum = vec3(0.0);
  vec2 g = grating.direction;
  float eyeU = dot(site.eye.xy, g);
  float w = site.eye.x * g.y - site.eye.y * g.x;
  float reach = sqrt(1.0 - w * w);
  // Longer waves of no order reach the eye.
  float longest = grating.pitch * (abs(eyeU) + reach);
  int most = min(MAX_ORDER, int(longest / FIRST_WAVELENGTH));
  for (int k = uRoomFirst; k < uRoomStrata; k += uRoomShare) {
    float first = float(k) * stratum;
    if (FIRST_WAVELENGTH + first >= longest) break;
    vec3 light = vec3(0.0);
    vec3 inkFirst = vec3(0.0);
    vec3 inkSecond = vec3(0.0);
    if (clearPrint) light = lightUpTo(first + stratum) - lightUpTo(first);
    else stratumInks(first, first + stratum, inkFirst, inkSecond);
    for (int m = -most; m <= most; m++) {
      if (m == 0) continue;
      float n = abs(float(m));
      float side = float(sign(m));
      float from = max(FIRST_WAVELENGTH + first, grating.pitch * (side * eyeU - reach) / n);
      float to = min(FIRST_WAVELENGTH + first + stratum, grating.pitch * (side * eyeU + reach) / n);
      if (from >= to) continue;
      float wavelength = 0.5 * (from + to);
      float u = float(m) * wavelength / grating.pitch - eyeU;
      float z2 = 1.0 - w * w - u * u;
      if (z2 <= 0.0) continue;
      vec3 l = vec3(u * g.x - w * g.y, u * g.y + w * g.x, sqrt(z2));
      float cosLamp = refracted(l.z);
      float slant = 1.0 / cosLamp + 1.0 / cosEye;
      float q = uCoat * (cosLamp + cosEye);
      float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
      float part = (to - from) / stratum * grating.share
        * roomRadiance(dot(uRoomUp, l))
        * (1.0 - fresnel(l.z, uCoat))
        * sqrt(metalAngle(cosLamp))
        * orderPower(grating, m, wavelength, q)
        * straightThrough(slant);
      sum += part * (clearPrint ? light : lightBetween(inkFirst, inkSecond, x));
    }
  }
  return float(uRoomShare) * sum;
}
#endif

// Order 0 of the gratings and the mirror between them, and all other orders, over the level.
vec3 roomGratings(float cosEye, out vec3 orders) {
  float x = (2.0 / cosEye - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
  float bare = 1.0;
  vec3 sum = vec3(0.0);
  orders = vec3(0.0);
#ifndef DIRECT
  // A white that lets no ray through shows none.
  bool shown = uRoomStrata > 0 && grated != 0 && straightThrough(SLANT_FIRST) >= NO_LIGHT;
#endif
  for (int i = 0; i < uChannels; i++) {
    if (!mayHaveGrating(i)) continue;
    Grating grating = gratingAt(i);
    bare -= grating.share;
    if (grating.share <= 0.0) continue;
    sum += grating.share * orderZero(grating, 2.0 * uCoat * cosEye, x);
#ifndef DIRECT
    if (shown) orders += roomOrders(grating, cosEye);
#endif
  }
  return bare > 0.0 ? sum + bare * plainMirror(x) : sum;
}

#if OVERLAY == 1
vec3 underLeaves(vec3 light, float slant);
#endif

vec3 underRoom(float level, inout vec3 diffuse) {
  float glossy = 1.0 - site.leaving;
  float k = uRoomUp.z;
  float image = level * roomRadiance(dot(uRoomUp, vec3(-site.eye.xy, site.eye.z)));
  float mean = level * (ROOM_FLOOR + (1.0 - ROOM_FLOOR) * 0.25 * (1.0 + 4.0 / 3.0 * k + (1.0 + k * k) / 4.0));
  float cosEye = site.cosEye;
  float slant = 2.0 / cosEye;
#if OVERLAY == 1
  vec3 sum = underLeaves(glossy * image * uWhite[lightSet], slant);
#else
  vec3 sum = glossy * image * uWhite[lightSet];
#endif
  diffuse += mean * scattered(slant, uEvenlyEntering);
  if (site.metal > 0.0) {
    float leaving = site.metal * site.leaving;
    float q = 2.0 * uCoat * cosEye;
    float smoothPart = smoothness(q, HAZE_WAVELENGTH);
    vec3 orders;
    vec3 imaged = roomGratings(cosEye, orders);
    vec3 straight = smoothPart * imaged;
    // The haze lies around the mirror image.
#if HAZE == 1
    vec3 ink = plainMirror((slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST));
    straight += hazeGrowth(q) * uHaze[lightSet] * ink / texelFetch(uOrderZero, ivec2(0, zeroRow()), 0).rgb;
#endif
    float passing = leaving * site.leaving * straightThrough(slant) * site.eyeMetal * site.eyeMetal;
    sum += passing * image * straight;
#if CHANNELS > 0
#ifndef DIRECT
    if (uRoomStrata > 0) return sum + leaving * level * site.eyeMetal * orders;
#endif
    vec3 all = plainMirror((slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST));
    sum += passing * mean * smoothPart * max(vec3(0.0), all - imaged);
#endif
  }
  return sum;
}
#endif

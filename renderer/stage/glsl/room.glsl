// The room, by direction in every order: core/reference/shade-room.ts.
#if ROOM == 1
uniform vec3 uRoomUp;
uniform float uRoomLevel;
// Strata of the spectrum; they divide the steps between ink columns. None while a hand moves: the orders but 0 then show
// the room's mean.
uniform int uRoomStrata;

float roomRadiance(float cosine) {
  return ROOM_FLOOR + (1.0 - ROOM_FLOOR) * 0.25 * (1.0 + cosine) * (1.0 + cosine);
}

// Between two slants as betweenSlants, for light, which may be 0.
vec3 lightBetween(vec3 f0, vec3 f1, float x) {
  vec3 below = (1.0 + x) * f0 + (1.0 - x) * f1;
  vec3 between = f0 * ((1.0 - x) * f0 + (1.0 + x) * f1) / max(below, vec3(1e-20));
  return mix(vec3(0.0), between, greaterThan(f0, vec3(0.0)));
}

// All orders but 0 of all gratings, over the level. A picture of one sample is for the hand and shows their mean: a
// graphics card would run the whole shader slower for having this in it.
#ifndef DIRECT
vec3 roomOrders(float cosEye) {
  float stratum = (LAST_WAVELENGTH - FIRST_WAVELENGTH) / float(uRoomStrata);
  vec3 sum = vec3(0.0);
  // Nothing to see: no grating, or a white that lets no ray through.
  if (grated == 0 || straightThrough(SLANT_FIRST) < NO_LIGHT) return sum;
  for (int k = 0; k < uRoomStrata; k++) {
    float first = float(k) * stratum;
    vec3 light = lightUpTo(first + stratum) - lightUpTo(first);
    // Through the inks at both slants: each column stands for the half steps around it.
    vec3 inkFirst = light;
    vec3 inkSecond = light;
    if (!clearPrint) {
      inkFirst = vec3(0.0);
      inkSecond = vec3(0.0);
      int columns = int(stratum / INK_STEP);
      vec3 left = lightUpTo(first);
      for (int j = 0; j <= columns; j++) {
        float at = first + float(j) * INK_STEP;
        vec3 right = lightUpTo(min(at + 0.5 * INK_STEP, first + stratum));
        vec2 ink = inkAt(at);
        inkFirst += ink.x * (right - left);
        inkSecond += ink.y * (right - left);
        left = right;
      }
    }
    for (int i = 0; i < uChannels; i++) {
      if (!mayHaveGrating(i)) continue;
      Grating grating = gratingAt(i);
      if (grating.share <= 0.0) continue;
      vec2 g = grating.direction;
      float eyeU = dot(site.eye.xy, g);
      float w = site.eye.x * g.y - site.eye.y * g.x;
      float reach = sqrt(1.0 - w * w);
      int most = min(MAX_ORDER, int(grating.pitch * (abs(eyeU) + reach) / FIRST_WAVELENGTH));
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
  }
  return sum;
}

#endif

// Order 0 of the gratings and the mirror between them.
vec3 roomImage(float cosEye) {
  float x = (2.0 / cosEye - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
  float bare = 1.0;
  vec3 sum = vec3(0.0);
  for (int i = 0; i < uChannels; i++) {
    if (!mayHaveGrating(i)) continue;
    Grating grating = gratingAt(i);
    bare -= grating.share;
    if (grating.share > 0.0) sum += grating.share * orderZero(grating, 2.0 * uCoat * cosEye, x);
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
    vec3 imaged = roomImage(cosEye);
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
    if (uRoomStrata > 0) return sum + leaving * level * site.eyeMetal * roomOrders(cosEye);
#endif
    vec3 all = plainMirror((slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST));
    sum += passing * mean * smoothPart * max(vec3(0.0), all - imaged);
#endif
  }
  return sum;
}
#endif

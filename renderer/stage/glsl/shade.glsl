// Light towards the eye, X, Y, Z in units of perfect white under all lamps: core/reference/shade.ts, step by step.
uniform vec3 uLampMiddle[LAMPS];
uniform vec3 uLampAcross[LAMPS];
uniform vec3 uLampUp[LAMPS];
uniform float uLampPointScale[LAMPS];
uniform float uLampWideScale[LAMPS];
uniform int uLampRound[LAMPS];
uniform int uLampWide[LAMPS];
uniform int uLampSet[LAMPS];
uniform float uRoomParts[SETS];

// A lamp that is not wide as it is seen from here: core/reference/light.ts.
void aimLamp(int i) {
  vec3 toLamp = uLampMiddle[i] - vec3(site.place, SITE_HEIGHT);
  float distance2 = dot(toLamp, toLamp);
  vec3 l = toLamp * inversesqrt(distance2);
  site.lamp = l;
  site.irradiance = uLampPointScale[i] * max(0.0, l.z) / distance2;
  vec3 across = uLampAcross[i];
  if (uLampRound[i] == 1) {
    float s2 = dot(across, across) / (4.0 * distance2);
    site.lampBlur = s2 * vec3(1.0 - l.x * l.x, -l.x * l.y, 1.0 - l.y * l.y);
    site.lampVariance = s2;
    return;
  }
  vec3 a = across - dot(across, l) * l;
  vec3 b = uLampUp[i] - dot(uLampUp[i], l) * l;
  float scale = 1.0 / (3.0 * distance2);
  site.lampBlur = scale * vec3(a.x * a.x + b.x * b.x, a.x * a.y + b.x * b.y, a.y * a.y + b.y * b.y);
  site.lampVariance = 0.5 * scale * (dot(a, a) + dot(b, b));
}

bool mirrorNear(float waviness) {
  vec3 h = site.lamp + site.eye;
  float widest = 2.0 * site.lampVariance + site.eyeVariance + waviness * h.z * h.z + max(uCellVariance.x, uCellVariance.y);
  return dot(h.xy, h.xy) <= 2.0 * NOTHING * widest;
}

// Order 0 of the gratings and the mirror between them, of the lamp.
vec3 mirror(float x, float q, float scale) {
  if (!mirrorNear(site.waviness)) return vec3(0.0);
  vec3 h = site.lamp + site.eye;
  float eye = site.eyeVariance;
  float waves = site.waviness * h.z * h.z;
  float xx = site.lampBlur.x + eye * (1.0 - site.eye.x * site.eye.x) + waves;
  float xy = site.lampBlur.y - eye * site.eye.x * site.eye.y;
  float yy = site.lampBlur.z + eye * (1.0 - site.eye.y * site.eye.y) + waves;
  vec3 sum = vec3(0.0);
  float bare = 1.0;
  for (int i = 0; i < uChannels; i++) {
    if (!mayHaveGrating(i)) continue;
    Grating grating = gratingAt(i);
    float share = grating.share;
    vec2 g = grating.direction;
    bare -= share;
    float k = share * kernel(
      h.xy,
      xx + uCellVariance.x * g.x * g.x + uCellVariance.y * g.y * g.y,
      xy + (uCellVariance.x - uCellVariance.y) * g.x * g.y,
      yy + uCellVariance.x * g.y * g.y + uCellVariance.y * g.x * g.x
    );
    if (k > 0.0) sum += k * orderZero(grating, q, x);
  }
  if (bare > 0.0) sum += bare * kernel(h.xy, xx, xy, yy) * plainMirror(x);
  return scale * sum;
}

// Top surface over perfect white, of a roughness.
float lobe(float variance) {
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

float gloss() {
  if (site.varnish == 0.0) return lobe(uGlossVariance.x);
  if (site.varnish == 1.0) return lobe(uGlossVariance.y);
  return mix(lobe(uGlossVariance.x), lobe(uGlossVariance.y), site.varnish);
}

// Sets the site for the straight light that meets no matte varnish, then for what does: the two keep a kernel each.
void lie(int part) {
  site.waviness = uWavinessVariances[part];
  site.foil = COATED_PARTS == 1 ? site.metal : site.metal * (part == 0 ? 1.0 - site.varnish : site.varnish);
}

// Light that keeps its way, of the lamp that the site is set for, over its irradiance.
vec3 straight() {
  vec3 sum = vec3(0.0);
#if HAZE == 0 && LAMPS > 1
  // Of several lamps most are dark at a place; a single one is asked order by order.
  if (!mirrorNear(uWavinessVariances[COATED_PARTS - 1]) && !anyOrderNear()) return sum;
#endif
  float cosLamp = refracted(site.lamp.z);
  float cosEye = site.cosEye;
  float slant = 1.0 / cosLamp + 1.0 / cosEye;
  float through = (1.0 - fresnel(site.lamp.z, uCoat)) * site.leaving * straightThrough(slant);
  for (int part = 0; part < COATED_PARTS; part++) {
    lie(part);
    float passing = site.foil * through;
    if (passing > 0.0) {
      float scale = PI * passing * site.eyeMetal * sqrt(metalAngle(cosLamp));
      float q = uCoat * (cosLamp + cosEye);
      float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
      sum += allOrders(x, q, scale);
      sum += mirror(x, q, scale * smoothness(q, HAZE_WAVELENGTH));
#if HAZE == 1
      sum += haze(cosLamp, cosEye, x, scale);
#endif
    }
  }
  return sum;
}

// The lamp that the site is set for.
vec3 underLamp(inout vec3 diffuse) {
  if (scattering()) {
    float slant = 1.0 / refracted(site.lamp.z) + 1.0 / site.cosEye;
    diffuse += site.irradiance * scattered(slant, 1.0 - fresnel(site.lamp.z, uCoat));
  }
  vec3 sum = gloss() * uWhite[lightSet];
  if (site.metal > 0.0) sum += straight();
  return site.irradiance * sum;
}

#if WIDE > 0
// A lamp whose outline counts.
vec3 underWideLamp(int i, inout vec3 diffuse) {
  aimArea(uLampMiddle[i], uLampAcross[i], uLampUp[i], uLampRound[i] == 1);
  if (area.light <= 0.0) return vec3(0.0);
  float scale = uLampWideScale[i];
  float cosEye = site.cosEye;
  vec3 sum = vec3(0.0);
  float leaving = site.leaving * site.eyeMetal;
  for (int part = 0; part < COATED_PARTS; part++) {
    lie(part);
    float metal = site.foil * leaving;
    if (metal <= 0.0) continue;
    for (int k = 0; k < uChannels; k++)
      if (mayHaveGrating(k)) sum += wideOrders(gratingAt(k), cosEye, PI * scale * metal);
    sum += wideMirror(cosEye, PI * scale * metal);
  }
  float slant = 1.0 / refracted(area.lightCos) + 1.0 / cosEye;
#if OVERLAY == 0
  diffuse += scale * area.light * scattered(slant, 1.0 - fresnel(area.lightCos, uCoat));
#endif
  aimWideAsPoint(scale);
  if (site.lamp.z <= 0.0) return sum;
  float cosLamp = refracted(site.lamp.z);
  slant = 1.0 / cosLamp + 1.0 / cosEye;
  float passing = leaving * (1.0 - fresnel(site.lamp.z, uCoat)) * sqrt(metalAngle(cosLamp)) * straightThrough(slant);
  float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
  for (int part = 0; part < COATED_PARTS; part++) {
    lie(part);
#if HAZE == 1
    if (site.foil > 0.0) sum += site.irradiance * haze(cosLamp, cosEye, x, PI * passing * site.foil);
#endif
  }
#if OVERLAY == 1
  // Its gloss and what it scatters are added where their leaf lies.
  return sum;
#else
  vec2 lobes;
  for (int k = 0; k < 2; k++) {
    float variance = uGlossVariance[k];
    lobes[k] = 2.0 * variance < site.lampVariance
      ? PI * scale * wideLobe(variance)
      : site.irradiance * lobe(variance);
  }
  return sum + mix(lobes.x, lobes.y, site.varnish) * uWhite[lightSet];
#endif
}
#endif

vec3 shade() {
  vec3 sum = vec3(0.0);
  if (site.eye.z <= 0.0) return sum;
  site.cosEye = refracted(site.eye.z);
  site.leaving = 1.0 - fresnel(site.eye.z, uCoat);
  site.eyeMetal = sqrt(metalAngle(site.cosEye));
  prepareWhites();
  for (lightSet = 0; lightSet < SETS; lightSet++) {
    preparePrint();
    vec3 diffuse = vec3(0.0);
    for (int i = 0; i < LAMPS; i++) {
#if SETS > 1
      if (uLampSet[i] != lightSet) continue;
#endif
#if WIDE > 0
      if (uLampWide[i] == 1) {
        sum += underWideLamp(i, diffuse);
        continue;
      }
#endif
      aimLamp(i);
      if (site.lamp.z > 0.0 && site.irradiance > 0.0) sum += underLamp(diffuse);
    }
#if ROOM == 1
    sum += underRoom(uRoomLevel * uRoomParts[lightSet], diffuse);
#endif
    sum += diffuse * scatteredFactor(diffuse != vec3(0.0)) * uWhite[lightSet];
  }
  return sum;
}

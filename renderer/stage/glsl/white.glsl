// What the whites leave of straight light, and what whites and board scatter: core/reference/shade-white.ts.
// Of each plate: area that it covers, scattering strength and straight thickness there.
vec4 whiteCover;
vec4 whiteScatter;
vec4 whiteStraight;

void prepareWhites() {
  vec4 uneven = max(vec4(0.0), 1.0 + uWhiteMottle * site.unevenness);
  vec4 strength = uneven * mix(vec4(1.0), site.whites, uWhiteEven);
  whiteCover = mix(site.whites, ceil(site.whites), uWhiteEven);
  whiteScatter = strength * uWhiteScatter;
  whiteStraight = strength * uWhiteStraight;
}

#if OVERLAY == 1
float lyingTogether(vec4 cover, vec4 straight, float slant) {
  float left = 1.0;
#if WHITES > 0
  for (int i = 0; i < WHITES; i++) left *= 1.0 - cover[i] + cover[i] * exp(-straight[i] * slant);
#endif
  return left;
}

// The eye's way and the lamp's cross the whites at two places, which lie in the same dots or not.
float straightThrough(float slant) {
  float near = lyingTogether(whiteCover, whiteStraight, eyeSlant);
  float far = lyingTogether(farCover, farStraight, slant - eyeSlant);
  float both = lyingTogether(whiteCover, whiteStraight, slant) * lyingTogether(farCover, farStraight, slant);
  return filmsPass * mix(near * far, sqrt(both), together);
}

#define FOIL_ALBEDO (backing * uFoilAlbedo[lightSet])
#define BOARD_ALBEDO (backing * uBoardAlbedo[lightSet])
#else
#define FOIL_ALBEDO uFoilAlbedo[lightSet]
#define BOARD_ALBEDO uBoardAlbedo[lightSet]
float straightThrough(float slant) {
  float left = 1.0;
#if WHITES > 0
  for (int i = 0; i < WHITES; i++)
    left *= 1.0 - whiteCover[i] + whiteCover[i] * exp(-whiteStraight[i] * slant);
#endif
  return left;
}
#endif

vec3 surfaced(float T, vec3 albedo, float straight) {
  vec3 film = 1.0 - T + T * T * albedo / (1.0 - (1.0 - T) * albedo);
  vec3 inside = max(vec3(0.0), film - albedo * straight);
  return (1.0 - SURFACE_INSIDE) * inside / (1.0 - SURFACE_INSIDE * inside);
}

// Foil alone scatters nothing.
bool scattering() {
  return site.whites != vec4(0.0) || site.metal < 1.0;
}

// Without the inks' and the lamp's colour.
vec3 scattered(float slant, float entering) {
  if (!scattering()) return vec3(0.0);
  vec3 sum = vec3(0.0);
  for (int overlap = 0; overlap < (1 << WHITES); overlap++) {
    float area = 1.0;
    float scatter = 0.0;
    float thickness = 0.0;
#if WHITES > 0
    for (int i = 0; i < WHITES; i++) {
      bool lies = ((overlap >> i) & 1) == 1;
      area *= lies ? whiteCover[i] : 1.0 - whiteCover[i];
      scatter += lies ? whiteScatter[i] : 0.0;
      thickness += lies ? whiteStraight[i] : 0.0;
    }
#endif
    if (area <= 0.0) continue;
    float T = 1.0 / (1.0 + scatter);
    // White takes the paper's colour by what it does not let through.
    vec3 paper = area * mix(uPaperTint, vec3(1.0), T);
    if (site.metal > 0.0 && scatter > 0.0)
      sum += paper * site.metal * surfaced(T, FOIL_ALBEDO, exp(-thickness * slant));
    if (site.metal < 1.0) sum += paper * (1.0 - site.metal) * surfaced(T, BOARD_ALBEDO, 0.0);
  }
  return entering * sum;
}

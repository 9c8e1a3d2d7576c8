// Board, white and overprint that lie apart: core/reference/shade-overlay.ts, step by step.
#if OVERLAY == 1
// Of white, then of the inks: height over the board, and how much of a film's surfaces they have.
uniform vec2 uLeafHeights;
uniform vec2 uLeafFilms;
uniform vec2 uLeafShift;
// Which of board, white and inks are there.
uniform ivec3 uLeafShown;
uniform float uContact;
uniform float uFilmIndex;
uniform float uFilmVariance;
// Whether anything but the print's own order lies between board and eye.
uniform int uApart;
// What lies under all leaves.
uniform vec3 uUnder;
uniform float uDotMm;

int leafLevel;
bool onBoard;
bool onWhite;
bool onInks;
vec2 whitePlace;
vec2 inksPlace;
// What both films and the front one let through on the eye's way, and the part of the front one with white on its back.
float eyeFilms;
float eyeFront;
float backed;
// Scattering strength of the whites where the lamp's ray crosses them.
vec4 farScatter;
bool bothBlank;

float filmReflectance(float cosine) {
  float F = fresnel(cosine, uFilmIndex);
  return mix(2.0 * F / (1.0 + F), F, backed);
}

float filmPasses(float film, float cosine) {
  return film == 0.0 ? 1.0 : 1.0 - film * filmReflectance(cosine);
}

// What of the front film's loss counts for the white: none while it lies on the film's own back.
float behind(float front) {
  return mix(front, 1.0, uContact);
}

void aimAt(vec2 place, float height) {
  site.place = place;
  siteHeight = height;
  vec3 toEye = uEye - vec3(place, height);
  float eyeDistance = length(toEye);
  site.eye = toEye / eyeDistance;
  site.eyeVariance = uEyeSigma * uEyeSigma / (eyeDistance * eyeDistance);
}

bool onLeaf(vec2 place) {
  vec2 part = abs(place / uPanelSize);
  return max(part.x, part.y) < 0.5;
}

// Each returns whether the place is on its leaf.
bool readInks(vec2 place, out vec4 inks, out vec4 spots) {
  inks = vec4(0.0);
  spots = vec4(0.0);
  vec2 own = place - uLeafShift;
  if (!onLeaf(own)) return false;
  if (uLeafShown.z == 0) return true;
  ivec2 texel = texelAt(leafLevel, own);
  texel = GROUP_TEXEL(COLOUR, leafLevel, own, texel);
  inks = readCoats(leafLevel, texel, 0);
#if SPOTS > 0
  spots = readCoats(leafLevel, texel, 3);
#endif
  return true;
}

bool readWhites(vec2 place, out vec4 whites, out float unevenness) {
  whites = vec4(0.0);
  unevenness = 0.0;
  vec2 own = place - uLeafShift;
  if (!onLeaf(own)) return false;
  if (uLeafShown.y == 0) return true;
#if WHITES > 0
  ivec2 texel = texelAt(leafLevel, own);
  unevenness = 255.0 * MOTTLE_SCALE * readCoats(leafLevel, texel, 1).z + MOTTLE_OFFSET;
  whites = readCoats(leafLevel, GROUP_TEXEL(WHITE, leafLevel, own, texel), 2);
#endif
  return true;
}

// Matter along the eye's ray; false where it meets no leaf.
bool openLeaves() {
  vec3 fromEye = vec3(vPlace, 0.0) - uEye;
  vec2 k = fromEye.xy / fromEye.z;
  leafLevel = footprintLevel(fromEye);
  grated = 0;
  site.metal = 0.0;
  site.varnish = 0.0;
  site.whites = vec4(0.0);
  site.inks = vec4(0.0);
  site.spots = vec4(0.0);
  site.unevenness = 0.0;
  onBoard = uLeafShown.x == 1 && onLeaf(vPlace);
  if (onBoard) {
    ivec2 texel = texelAt(leafLevel, vPlace);
    vec4 base = readCoats(leafLevel, GROUP_TEXEL(HOLOGRAPHY, leafLevel, vPlace, texel), 1);
    site.metal = base.x;
    site.varnish = readCoats(leafLevel, GROUP_TEXEL(COLOUR, leafLevel, vPlace, texel), 1).y;
    matterLevel = leafLevel;
    matterTexel = texel;
    findGratings(vPlace);
#if VIEWS > 0
    findViews();
#endif
#if CHANNELS == 1
    if (grated != 0) onlyGrating = gratingOf(0);
#endif
  }
  whitePlace = vPlace + uLeafHeights.x * k;
  inksPlace = vPlace + uLeafHeights.y * k;
  onWhite = false;
  onInks = false;
  if (uEye.z > uLeafHeights.x)
    onWhite = readWhites(whitePlace, site.whites, site.unevenness) && (uLeafShown.y == 1 || uLeafFilms.x > 0.0);
  if (uEye.z > uLeafHeights.y)
    onInks = readInks(inksPlace, site.inks, site.spots) && (uLeafShown.z == 1 || uLeafFilms.y > 0.0);
  return onBoard || onWhite || onInks;
}

// The inks on the lamp's way beside those on the eye's.
void joinPrints(vec4 inks, vec4 spots) {
  farInks = inks;
  farSpots = spots;
  printsApart = inks != site.inks || spots != site.spots;
  bothBlank = site.inks == vec4(0.0) && site.spots == vec4(0.0) && inks == vec4(0.0) && spots == vec4(0.0);
  clearPrint = bothBlank && TINTED == 0;
}

// What both leave of straight white light.
vec3 throughInks(float slant) {
  if (bothBlank) return vec3(1.0);
  float x = (slant - SLANT_FIRST) / (SLANT_SECOND - SLANT_FIRST);
  return max(vec3(0.0), plainMirror(x) / texelFetch(uOrderZero, ivec2(0, zeroRow()), 0).rgb);
}

// Light of the board's own surface, which a print has on top of all and a film or a lifted leaf has over it.
vec3 underLeaves(vec3 light, float slant) {
  if (!onBoard) return vec3(0.0);
  return uApart == 0 ? light : light * straightThrough(slant) * throughInks(slant);
}

// Even light through whites: each overlap of the plates passes 1/(1 + S).
float overlapsPass(vec4 cover, vec4 scatters) {
  float left = 0.0;
  for (int overlap = 0; overlap < (1 << WHITES); overlap++) {
    float part = 1.0;
    float scatter = 0.0;
#if WHITES > 0
    for (int i = 0; i < WHITES; i++) {
      bool lies = ((overlap >> i) & 1) == 1;
      part *= lies ? cover[i] : 1.0 - cover[i];
      scatter += lies ? scatters[i] : 0.0;
    }
#endif
    left += part / (1.0 + scatter);
  }
  return left;
}

// How the whites lie where the lamp's ray crosses them.
void layFar(vec4 whites, float unevenness) {
  vec4 kept = site.whites;
  float keptUnevenness = site.unevenness;
  site.whites = whites;
  site.unevenness = unevenness;
  prepareWhites();
  farCover = whiteCover;
  farScatter = whiteScatter;
  farStraight = whiteStraight;
  site.whites = kept;
  site.unevenness = keptUnevenness;
  prepareWhites();
}

// What the ray from the board to a lamp's middle crosses; returns what the films let through.
float wayFromBoard(int i, out vec4 inks, out vec4 spots) {
  vec3 toLamp = uLampMiddle[i] - vec3(vPlace, 0.0);
  float cosine = toLamp.z / length(toLamp);
  float films = 1.0;
  vec4 whites = vec4(0.0);
  float unevenness = 0.0;
  inks = vec4(0.0);
  spots = vec4(0.0);
  together = 0.0;
  if (toLamp.z > uLeafHeights.x) {
    vec2 place = vPlace + uLeafHeights.x / toLamp.z * toLamp.xy;
    if (readWhites(place, whites, unevenness)) films *= filmPasses(uLeafFilms.x, cosine);
    vec2 off = (place - whitePlace) / uDotMm;
    together = exp(-dot(off, off));
  }
  layFar(whites, unevenness);
  if (toLamp.z > uLeafHeights.y) {
    vec2 place = vPlace + uLeafHeights.y / toLamp.z * toLamp.xy;
    if (readInks(place, inks, spots)) films *= filmPasses(uLeafFilms.y, cosine);
  }
  return films;
}

// The same of the inks from a place of the white.
float wayFromWhite(int i, out vec4 inks, out vec4 spots) {
  vec3 toLamp = uLampMiddle[i] - vec3(whitePlace, uLeafHeights.x);
  float height = uLeafHeights.y - uLeafHeights.x;
  inks = vec4(0.0);
  spots = vec4(0.0);
  if (toLamp.z <= height) return 1.0;
  if (!readInks(whitePlace + height / toLamp.z * toLamp.xy, inks, spots)) return 1.0;
  return filmPasses(uLeafFilms.y, toLamp.z / length(toLamp));
}

bool wideLamp(int i) {
#if WIDE > 0
  return uLampWide[i] == 1;
#else
  return false;
#endif
}

// Sets a lamp as it is seen from the site; false where it does not shine there.
bool aimAny(int i) {
#if WIDE > 0
  if (uLampWide[i] == 1) {
    aimArea(uLampMiddle[i], uLampAcross[i], uLampUp[i], uLampRound[i] == 1);
    if (area.light <= 0.0) return false;
    aimWideAsPoint(uLampWideScale[i]);
    return site.lamp.z > 0.0;
  }
#endif
  aimLamp(i);
  return site.lamp.z > 0.0 && site.irradiance > 0.0;
}

float anyLobe(int i, float variance) {
#if WIDE > 0
  if (uLampWide[i] == 1 && 2.0 * variance < site.lampVariance) return PI * uLampWideScale[i] * wideLobe(variance);
#endif
  return site.irradiance * lobe(variance);
}

float slantHere() {
  return 1.0 / refracted(site.lamp.z) + 1.0 / site.cosEye;
}

// Metal and top surface of the board under a lamp.
vec3 boardUnder(int i) {
  vec3 sum = vec3(0.0);
#if WIDE > 0
  if (uLampWide[i] == 1) {
    vec3 none = vec3(0.0);
    sum = underWideLamp(i, none);
  }
#endif
  if (!aimAny(i)) return sum;
  if (!wideLamp(i) && site.metal > 0.0) sum += site.irradiance * straight();
  float shine = mix(anyLobe(i, uGlossVariance.x), anyLobe(i, uGlossVariance.y), site.varnish);
  if (shine > 0.0) sum += underLeaves(shine * uWhite[lightSet], slantHere());
  return sum;
}

// What white and bare board scatter of a lamp, seen from the site.
vec3 scatteredUnder(int i) {
  float cosine = 0.0;
  float irradiance = 0.0;
#if WIDE > 0
  if (uLampWide[i] == 1) {
    aimArea(uLampMiddle[i], uLampAcross[i], uLampUp[i], uLampRound[i] == 1);
    irradiance = uLampWideScale[i] * area.light;
    cosine = area.lightCos;
  } else
#endif
  {
    aimLamp(i);
    irradiance = site.lamp.z > 0.0 ? site.irradiance : 0.0;
    cosine = site.lamp.z;
  }
  if (irradiance <= 0.0) return vec3(0.0);
  float slant = 1.0 / refracted(cosine) + 1.0 / site.cosEye;
  return irradiance * scattered(slant, 1.0 - fresnel(cosine, uCoat)) * scatteredFactor(true) * uWhite[lightSet];
}

// The lamp's mirror image in a film, part of perfect white; the surface of the lobe is exchanged for the film's two.
float filmGloss(int i, float film) {
  if (film == 0.0 || !aimAny(i)) return 0.0;
  float shine = anyLobe(i, uFilmVariance);
  if (shine <= 0.0) return 0.0;
  float cosine = 0.5 * length(site.lamp + site.eye);
#if WIDE > 0
  if (uLampWide[i] == 1 && 2.0 * uFilmVariance < site.lampVariance) cosine = site.eye.z;
#endif
  return film * shine * filmReflectance(cosine) / fresnel(cosine, uCoat);
}

float whiteBehind() {
  float left = 1.0;
#if WHITES > 0
  for (int i = 0; i < WHITES; i++) left *= 1.0 - whiteCover[i];
#endif
  return uContact * (1.0 - left);
}

vec3 leavesUnderLamp(int i) {
  vec3 sum = vec3(0.0);
  vec4 inks;
  vec4 spots;
  float films = wayFromBoard(i, inks, spots);
  bool inked = site.whites != vec4(0.0);
  if (onBoard) {
    joinPrints(inks, spots);
    filmsPass = eyeFilms * films;
    aimAt(vPlace, 0.0);
    sum += boardUnder(i);
    if (scattering() && !inked) sum += eyeFilms * films * overlapsPass(farCover, farScatter) * scatteredUnder(i);
  }
  if (inked || (onWhite && uLeafFilms.x > 0.0)) {
    float front = behind(wayFromWhite(i, inks, spots) * eyeFront);
    joinPrints(inks, spots);
    aimAt(whitePlace, uLeafHeights.x);
    if (inked) sum += front * scatteredUnder(i);
    float shine = onWhite ? filmGloss(i, uLeafFilms.x) : 0.0;
    if (shine > 0.0) sum += front * shine * throughInks(slantHere()) * uWhite[lightSet];
  }
  if (onInks) {
    backed = whiteBehind();
    aimAt(inksPlace, uLeafHeights.y);
    sum += filmGloss(i, uLeafFilms.y) * uWhite[lightSet];
    backed = 0.0;
  }
  return sum;
}

#if ROOM == 1
vec3 leavesUnderRoom(float level) {
  // The eye's mirror direction: as good as the same place there and back.
  farCover = whiteCover;
  farStraight = whiteStraight;
  together = 1.0;
  filmsPass = eyeFilms * eyeFilms;
  joinPrints(site.inks, site.spots);
  vec3 diffuse = vec3(0.0);
  vec3 sum = underRoom(level, diffuse);
  float front = eyeFront * eyeFront;
  float films = site.whites == vec4(0.0) ? filmsPass : behind(front);
  sum += films * diffuse * scatteredFactor(true) * uWhite[lightSet];
  float image = level * roomRadiance(dot(uRoomUp, vec3(-site.eye.xy, site.eye.z)));
  if (onWhite && uLeafFilms.x > 0.0)
    sum += front * uLeafFilms.x * filmReflectance(site.eye.z) * image * throughInks(2.0 * eyeSlant) * uWhite[lightSet];
  if (onInks && uLeafFilms.y > 0.0) {
    backed = whiteBehind();
    sum += uLeafFilms.y * filmReflectance(site.eye.z) * image * uWhite[lightSet];
    backed = 0.0;
  }
  return sum;
}
#endif

vec3 shadeLeaves() {
  vec3 sum = vec3(0.0);
  aimAt(vPlace, 0.0);
  if (site.eye.z <= 0.0) return sum;
  site.cosEye = refracted(site.eye.z);
  site.leaving = 1.0 - fresnel(site.eye.z, uCoat);
  site.eyeMetal = sqrt(metalAngle(site.cosEye));
  eyeSlant = 1.0 / site.cosEye;
  backed = 0.0;
  backing = onBoard ? 1.0 : 0.0;
  eyeFront = onInks ? filmPasses(uLeafFilms.y, site.eye.z) : 1.0;
  eyeFilms = eyeFront * (onWhite ? filmPasses(uLeafFilms.x, site.eye.z) : 1.0);
  prepareWhites();
  for (lightSet = 0; lightSet < SETS; lightSet++) {
    preparePrint();
    for (int i = 0; i < LAMPS; i++) {
#if SETS > 1
      if (uLampSet[i] != lightSet) continue;
#endif
      sum += leavesUnderLamp(i);
    }
    aimAt(vPlace, 0.0);
#if ROOM == 1
    sum += leavesUnderRoom(uRoomLevel * uRoomParts[lightSet]);
#endif
  }
  if (onBoard) return sum;
  lightSet = 0;
  preparePrint();
  joinPrints(site.inks, site.spots);
  return sum + eyeFilms * overlapsPass(whiteCover, whiteScatter) * uUnder * sqrt(throughInks(2.0 * eyeSlant));
}
#endif

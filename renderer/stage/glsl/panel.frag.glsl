// One sample of the panel: where it lies, what lies there, and the light it sends to the eye. Mirrors
// core/reference/light.ts and sample.ts; X, Y, Z and a count of one go into the sum, or screen values to the screen.
in vec2 vPlace;
layout(location = 0) out vec4 outLight;

uniform vec3 uEye;
uniform float uEyeSigma;

void aim() {
  site.place = vPlace;
  vec3 toEye = uEye - vec3(vPlace, 0.0);
  float eyeDistance = length(toEye);
  site.eye = toEye / eyeDistance;
  site.eyeVariance = uEyeSigma * uEyeSigma / (eyeDistance * eyeDistance);
}

#if SOLID == 1
// Beside the art a leaf is metallised board that nothing was printed on.
void leaveBare() {
  site.inks = vec4(0.0);
  site.metal = 1.0;
  site.varnish = 0.0;
  site.unevenness = 0.0;
  site.whites = vec4(0.0);
  site.spots = vec4(0.0);
  grated = 0;
}
#endif

void readMatter() {
#if SOLID == 1
  vec2 part = abs(vPlace / uPanelSize);
  if (max(part.x, part.y) > 0.5) {
    leaveBare();
    return;
  }
#endif
  int level = footprintLevel(vec3(vPlace, 0.0) - uEye);
  ivec2 texel = texelAt(level, vPlace);
  ivec2 inked = GROUP_TEXEL(COLOUR, level, vPlace, texel);
  site.inks = readCoats(level, inked, 0);
  vec4 base = readCoats(level, texel, 1);
#if MOVED == 1
  base.x = readCoats(level, GROUP_TEXEL(HOLOGRAPHY, level, vPlace, texel), 1).x;
  base.y = readCoats(level, inked, 1).y;
#endif
  site.metal = base.x;
  site.varnish = base.y;
  site.unevenness = 255.0 * MOTTLE_SCALE * base.z + MOTTLE_OFFSET;
  site.whites = vec4(0.0);
  site.spots = vec4(0.0);
#if WHITES > 0
  site.whites = readCoats(level, GROUP_TEXEL(WHITE, level, vPlace, texel), 2);
#endif
#if SPOTS > 0
  site.spots = readCoats(level, inked, 3);
#endif
  matterLevel = level;
  matterTexel = texel;
  findGratings(vPlace);
#if VIEWS > 0
  findViews();
#endif
#if CHANNELS == 1
  if (grated != 0) onlyGrating = gratingOf(0);
#endif
}

#if OVERLAY == 1
bool openLeaves();
vec3 shadeLeaves();

vec3 lightHere() {
  if (!openLeaves()) discard;
  return shadeLeaves();
}
#else
vec3 lightHere() {
  aim();
  readMatter();
  return shade();
}
#endif

void main() {
#ifdef DIRECT
  outLight = vec4(displayColor(lightHere()), 1.0);
#else
  outLight = vec4(lightHere(), 1.0);
#endif
}

// One place on the panel under lamp and eye, panel frame: core/reference/site.ts.
struct Site {
  // Millimetres from the panel's middle.
  vec2 place;
  vec3 lamp;
  vec3 eye;
  // Covariance xx, xy, yy of the tangential direction to the lamp's points, and the mean variance of the direction.
  vec3 lampBlur;
  float lampVariance;
  float eyeVariance;
  // Cosine of the way to the eye in the coat, what leaves the coat there, and the root of the metal at that angle.
  float cosEye;
  float leaving;
  float eyeMetal;
  float irradiance;
  float metal;
  // Part whose straight light is being added, and the waviness that it meets.
  float foil;
  float waviness;
  float unevenness;
  float varnish;
  vec4 whites;
  vec4 inks;
  vec4 spots;
};

Site site;
#if OVERLAY == 1
// Leaves that lie apart, core/reference/site.ts: height of the site over the board; what the lamp's ray crosses where
// the eye's does not; what the films' surfaces let through; whether there is a board.
float siteHeight;
vec4 farInks;
vec4 farSpots;
bool printsApart;
vec4 farCover;
vec4 farStraight;
float together;
float eyeSlant;
float filmsPass;
float backing;
#define SITE_HEIGHT siteHeight
#else
#define SITE_HEIGHT 0.0
#endif
// Which spectrum's tables are in use: those of several are stacked, row over row.
int lightSet;

uniform sampler2D uCumulative;
uniform sampler2D uEfficiency;
uniform sampler2D uOrderZero;
uniform sampler2D uMetalAngle;
uniform sampler2D uInkPath;
uniform sampler2D uPrint;
uniform sampler2D uSpotPath;
uniform sampler2D uSpotColor;
uniform sampler2D uSpotNodes;

uniform vec3 uWhite[SETS];
uniform vec3 uFoilAlbedo[SETS];
uniform vec3 uBoardAlbedo[SETS];
uniform vec4 uToneExponents;
uniform vec3 uPaperTint;
uniform vec4 uWhiteScatter;
uniform vec4 uWhiteStraight;
uniform vec4 uWhiteMottle;
uniform vec4 uWhiteEven;
uniform float uEvenlyEntering;
uniform float uCoat;
uniform float uCosGrazing;
uniform vec2 uWavinessVariances;
uniform vec2 uCellVariance;
uniform vec2 uGlossVariance;

// A table is read between two texels of a row by hand: a texture unit's own filter has too few bits for bands of
// a few nanometres. `at` counts texels from the middle of the first of `columns`: a graphics card that is asked for a
// texture's size waits for it as for a texel.
vec4 between(sampler2D table, int columns, float at, int row) {
  int left = clamp(int(at), 0, columns - 2);
  vec4 first = texelFetch(table, ivec2(left, row), 0);
  return first + (at - float(left)) * (texelFetch(table, ivec2(left + 1, row), 0) - first);
}

vec3 betweenSlants(vec3 f0, vec3 f1, float x) {
  return f0 * ((1.0 - x) * f0 + (1.0 + x) * f1) / ((1.0 + x) * f0 + (1.0 - x) * f1);
}

float inkBetween(vec2 ink, float x) {
  return ink.x * ((1.0 - x) * ink.x + (1.0 + x) * ink.y) / ((1.0 + x) * ink.x + (1.0 - x) * ink.y);
}

// Reflectance of a bare dielectric, unpolarized: core/optics/fresnel.ts, for light that comes from air.
float fresnel(float cosIn, float n) {
  float cosOut = sqrt(1.0 - (1.0 - cosIn * cosIn) / (n * n));
  float s = (cosIn - n * cosOut) / (cosIn + n * cosOut);
  float p = (n * cosIn - cosOut) / (n * cosIn + cosOut);
  return 0.5 * (s * s + p * p);
}

// Cosine inside the coat of light that comes from air.
float refracted(float cosAir) {
  return sqrt(1.0 - (1.0 - cosAir * cosAir) / (uCoat * uCoat));
}

float angleColumn(float cosine) {
  return (cosine - uCosGrazing) / (1.0 - uCosGrazing) * float(ANGLE_COLUMNS - 1);
}

// Reflectance of the metal at an angle over that straight on.
float metalAngle(float cosine) {
  return between(uMetalAngle, ANGLE_COLUMNS, angleColumn(cosine), 0).r;
}

// Light of the spectrum in use up to a wavelength, counted in nanometres from its first: of the nearest step. What one
// stratum of a band loses by that the next has.
vec3 lightUpTo(float offset) {
  return texelFetch(uCumulative, ivec2(int(offset * LIGHT_STEPS + 0.5), lightSet), 0).rgb;
}

// Smith's share of the top surface that a ray reaches: core/optics/gloss.ts.
float unshadowed(float cosine, float variance) {
  float a2 = cosine * cosine / ((1.0 - cosine * cosine) * variance + 1e-30);
  if (a2 >= SMITH_REACH) return 1.0;
  float a = sqrt(a2);
  return (SMITH_A * a + SMITH_B * a2) / (1.0 + SMITH_C * a + SMITH_D * a2);
}

// The material map as textures; nothing is filtered. Mirrors core/reference/level.ts and sample.ts.
uniform highp sampler2DArray uCoats;
uniform highp isampler2D uTileIndex;
uniform highp usampler2D uGrating;
uniform highp usampler2D uRelief;
// A level: left, top, width, height in the atlas of coats.
uniform ivec4 uCoatPlaces[MOST_LEVELS];
// A level: first entry of the tile index, tiles in a row, entries a channel.
uniform ivec3 uTilePlaces[MOST_LEVELS];
uniform int uLevels;
// The level that has the first look of an edit; -1: none.
uniform int uLookLevel;
uniform vec2 uPanelSize;
uniform float uPixelsPerMm;
// Change of the ray per pixel to the right and down, panel frame; axis along which depth counts.
uniform vec3 uStepX;
uniform vec3 uStepY;
uniform vec3 uDepthAxis;

#if MOVED == 1
// From a place to where each group of plates was drawn, two rows a group, mm from the middle; cosine and sine of the
// holography's turn: core/checks/register/groups.ts.
uniform vec3 uDrawn[6];
uniform vec2 uTurned;
#define HOLOGRAPHY 0
#define WHITE 1
#define COLOUR 2

vec2 drawnAt(int group, vec2 place) {
  vec3 at = vec3(place, 1.0);
  return vec2(dot(uDrawn[2 * group], at), dot(uDrawn[2 * group + 1], at));
}

// Art that bled off the map goes on beyond it.
#define GROUP_TEXEL(group, level, place, texel) texelAt(level, drawnAt(group, place))
#else
#define GROUP_TEXEL(group, level, place, texel) (texel)
#endif

struct Grating {
  vec2 direction;
  float pitch;
  float depth;
  int groove;
  float share;
  float spreadAlong;
  float spreadAcross;
  float spreadCovariance;
};

int footprintLevel(vec3 fromEye) {
  vec2 k = fromEye.xy / fromEye.z;
  vec2 right = uStepX.xy - k * uStepX.z;
  vec2 down = uStepY.xy - k * uStepY.z;
  float longest = max(dot(right, right), dot(down, down));
  float depth = dot(uDepthAxis, fromEye);
  int level = int(floor(log2(depth * uPixelsPerMm) + 0.5 * log2(longest) + 0.5));
  return clamp(level, 0, uLevels - 1);
}

ivec2 texelAt(int level, vec2 place) {
  vec2 part = vec2(place.x, -place.y) / uPanelSize + 0.5;
  ivec2 size = uCoatPlaces[level].zw;
  return clamp(ivec2(floor(part * vec2(size))), ivec2(0), size - 1);
}

vec4 readCoats(int level, ivec2 texel, int layer) {
  return texelFetch(uCoats, ivec3(uCoatPlaces[level].xy + texel, layer), 0);
}

// The place of the map that is being lit, and its channels that may have a grating, one bit each. Several gratings are
// read anew for every lamp: a graphics card that had to hold them all would light far fewer places at once.
int matterLevel;
ivec2 matterTexel;
int grated;
// As many as CHANNELS; a uniform, so that no compiler writes a loop out once for each.
uniform int uChannels;

bool mayHaveGrating(int channel) {
  return ((grated >> channel) & 1) == 1;
}

int indexEntry(int entry) {
  uint at = uint(entry);
  return texelFetch(uTileIndex, ivec2(at % uint(INDEX_WIDTH), at / uint(INDEX_WIDTH)), 0).r;
}

// Column of the texel's block and 2^16 times its row in the pool, or less than 0 where the block is empty.
int blockOf(int channel) {
#if MOVED == 1
  // Beside the map there is no grating.
  if (matterTexel.x < 0) return -1;
#endif
  ivec3 place = uTilePlaces[matterLevel];
  ivec2 tile = ivec2(uvec2(matterTexel) / uint(TILE));
  return indexEntry(place.x + channel * place.z + tile.y * place.y + tile.x);
}

// Place of the texel in the pool, or -1, -1 where its block is empty. No division here: a graphics card has none for
// whole numbers.
ivec2 poolPlace(int channel) {
  int block = blockOf(channel);
  if (block < 0) return ivec2(-1);
  return ivec2(block & 0xffff, block >> 16) * TILE + ivec2(uvec2(matterTexel) % uint(TILE));
}

void findGratings(vec2 place) {
#if MOVED == 1
  place = drawnAt(HOLOGRAPHY, place);
  vec2 part = abs(place / uPanelSize);
  matterTexel = max(part.x, part.y) > 0.5 ? ivec2(-1) : texelAt(matterLevel, place);
#endif
  // Where the first look of an edit is, no other level is read.
  if (uLookLevel >= 0 && blockOf(0) == SEE_LOOK) {
    matterLevel = uLookLevel;
    matterTexel = texelAt(uLookLevel, place);
  }
  grated = 0;
  for (int i = 0; i < PLAIN_CHANNELS; i++) grated |= blockOf(i) < 0 ? 0 : 1 << i;
}

const Grating noGrating = Grating(vec2(1.0, 0.0), 1000.0, 0.0, 0, 0.0, 0.0, 0.0, 0.0);

// Of a channel that may have one; without one the share is 0.
Grating plainGrating(int channel) {
  ivec2 at = poolPlace(channel);
  uvec4 stored = texelFetch(uGrating, at, 0);
  uvec4 relief = texelFetch(uRelief, at, 0);
  // The two 16-bit halves are signed.
  vec2 kappa = vec2(ivec2(stored.xy << 16u) >> 16);
#if MOVED == 1
  kappa = vec2(uTurned.x * kappa.x - uTurned.y * kappa.y, uTurned.y * kappa.x + uTurned.x * kappa.y);
#endif
  float size = length(kappa);
  if (size == 0.0) return noGrating;
  return Grating(
    kappa / size, 1000.0 * KAPPA_SCALE / size, float(relief.x), int(relief.z), float(relief.y) / 255.0,
    float(stored.z) / (1000.0 * SPREAD_SCALE), float(stored.w) / (1000.0 * SPREAD_SCALE), 0.0
  );
}

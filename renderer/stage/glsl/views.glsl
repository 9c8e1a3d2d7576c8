// The views of a place, as further gratings: core/material/views.ts.
#if VIEWS > 0
// First entry of the sets' table in the tile index.
uniform int uViewTable;

float viewNumber(int entry) {
  return intBitsToFloat(indexEntry(entry));
}

// First number of the place's set, how far the place lies from its middle, and the parts of its views, a byte each.
int viewSet;
vec2 viewAway;
uvec4 viewParts[VIEWS > 8 ? 2 : 1];

float viewPart(int i) {
  uint two = viewParts[i >> 3][(i & 7) >> 1];
  return float((i & 1) == 0 ? two & 255u : two >> 8u) / 255.0;
}

Grating viewGrating(int i) {
  int set = viewSet;
  vec2 away = viewAway;
  int from = set + VIEW_HEAD + VIEW_NUMBERS * i;
  vec2 kappa = vec2(viewNumber(from), viewNumber(from + 1));
  vec3 change = vec3(viewNumber(from + 2), viewNumber(from + 3), viewNumber(from + 4));
  kappa += vec2(change.x * away.x + change.y * away.y, change.y * away.x + change.z * away.y);
  float size = length(kappa);
  vec2 g = kappa / size;
  vec3 spread = vec3(viewNumber(set + 6), viewNumber(set + 7), viewNumber(set + 8));
  float along = spread.x * g.x * g.x + 2.0 * spread.y * g.x * g.y + spread.z * g.y * g.y;
  float across = spread.x * g.y * g.y - 2.0 * spread.y * g.x * g.y + spread.z * g.x * g.x;
  float both = (spread.z - spread.x) * g.x * g.y + spread.y * (g.x * g.x - g.y * g.y);
  return Grating(
    g, 1000.0 / size, viewNumber(set + 2), int(viewNumber(set + 3)), viewPart(i) * viewNumber(set + 1),
    sqrt(max(0.0, along)) / 1000.0, sqrt(max(0.0, across)) / 1000.0, both / 1.0e6
  );
}

void findViews() {
  ivec2 at = poolPlace(PLAIN_CHANNELS);
  if (at.x < 0) return;
  int id = int(texelFetch(uRelief, at, 0).x);
  if (id == 0) return;
  viewParts[0] = texelFetch(uGrating, at, 0);
#if VIEWS > 8
  ivec2 next = poolPlace(PLAIN_CHANNELS + 1);
  viewParts[1] = next.x < 0 ? uvec4(0u) : texelFetch(uGrating, next, 0);
#endif
  viewSet = uViewTable + VIEW_STRIDE * (id - 1);
  int count = int(viewNumber(viewSet));
  vec2 size = vec2(uCoatPlaces[matterLevel].zw);
  vec2 texel = vec2(matterTexel);
  vec2 place = vec2(texel.x + 0.5, size.y - texel.y - 0.5) / size * uPanelSize;
  viewAway = place - vec2(viewNumber(viewSet + 4), viewNumber(viewSet + 5));
  for (int i = 0; i < VIEWS; i++)
    if (i < count && viewPart(i) > 0.0) grated |= 1 << (PLAIN_CHANNELS + i);
}
#endif

// The grating of a channel that may have one.
Grating gratingOf(int channel) {
#if VIEWS > 0
  if (channel >= PLAIN_CHANNELS) return viewGrating(channel - PLAIN_CHANNELS);
#endif
  return plainGrating(channel);
}

#if CHANNELS == 1
// Read once.
Grating onlyGrating;
#define gratingAt(channel) onlyGrating
#else
#define gratingAt gratingOf
#endif

// The views of a place, as further gratings: core/material/views.ts.
#if VIEWS > 0
// First entry of the sets' table in the tile index.
uniform int uViewTable;

int indexEntry(int entry) {
  return texelFetch(uTileIndex, ivec2(entry % INDEX_WIDTH, entry / INDEX_WIDTH), 0).r;
}

float viewNumber(int entry) {
  return intBitsToFloat(indexEntry(entry));
}

// Place of a texel in the pool, or -1, -1 where its block is empty.
ivec2 poolPlace(int level, ivec2 texel, int channel) {
  ivec3 place = uTilePlaces[level];
  ivec2 tile = texel / TILE;
  int block = indexEntry(place.x + channel * place.z + tile.y * place.y + tile.x);
  if (block < 0) return ivec2(-1);
  return ivec2(block % uBlocksPerRow, block / uBlocksPerRow) * TILE + texel - tile * TILE;
}

Grating viewGrating(int set, int i, vec2 away, float part) {
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
    g, 1000.0 / size, viewNumber(set + 2), int(viewNumber(set + 3)), part * viewNumber(set + 1),
    sqrt(max(0.0, along)) / 1000.0, sqrt(max(0.0, across)) / 1000.0, both / 1.0e6
  );
}

void readViews(int level, ivec2 texel) {
  for (int i = 0; i < VIEWS; i++)
    gratings[PLAIN_CHANNELS + i] = Grating(vec2(1.0, 0.0), 1000.0, 0.0, 0, 0.0, 0.0, 0.0, 0.0);
  ivec2 at = poolPlace(level, texel, PLAIN_CHANNELS);
  if (at.x < 0) return;
  int id = int(texelFetch(uRelief, at, 0).x);
  if (id == 0) return;
  uvec4 eight = texelFetch(uGrating, at, 0);
  uvec4 more = uvec4(0u);
#if VIEWS > 8
  ivec2 next = poolPlace(level, texel, PLAIN_CHANNELS + 1);
  if (next.x >= 0) more = texelFetch(uGrating, next, 0);
#endif
  int set = uViewTable + VIEW_STRIDE * (id - 1);
  int count = int(viewNumber(set));
  vec2 size = vec2(uCoatPlaces[level].zw);
  vec2 place = vec2(float(texel.x) + 0.5, size.y - float(texel.y) - 0.5) / size * uPanelSize;
  vec2 away = place - vec2(viewNumber(set + 4), viewNumber(set + 5));
  for (int i = 0; i < VIEWS; i++) {
    if (i >= count) break;
    uvec4 four = i < 8 ? eight : more;
    uint two = four[(i & 7) >> 1];
    float part = float((i & 1) == 0 ? two & 255u : two >> 8u) / 255.0;
    if (part > 0.0) gratings[PLAIN_CHANNELS + i] = viewGrating(set, i, away, part);
  }
}
#endif

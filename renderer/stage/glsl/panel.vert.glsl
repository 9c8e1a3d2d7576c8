// The printed face of a leaf lies in the leaf's frame, in mm; the model matrix puts it where it stands.
// To the bit where its depth was drawn.
invariant gl_Position;
// Place on the panel, mm from the art's middle, x right, y up.
out vec2 vPlace;
#if OVERLAY == 1
// The board's plane as far as leaves over it are seen, over the panel.
uniform vec2 uReach;
#endif

void main() {
#if OVERLAY == 1
  vPlace = position.xy * uReach;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(vPlace, position.z, 1.0);
#else
  vPlace = position.xy;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
#endif
}

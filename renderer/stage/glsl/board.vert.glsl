// A back or a cut edge of a leaf, mm in the leaf's frame.
// To the bit where its depth was drawn.
invariant gl_Position;
out vec3 vPoint;
out vec3 vNormal;

void main() {
  vPoint = position;
  vNormal = normal;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}

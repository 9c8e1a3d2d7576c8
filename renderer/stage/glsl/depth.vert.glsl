// Depth of a leaf alone; to the bit where its faces are drawn.
invariant gl_Position;

void main() {
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}

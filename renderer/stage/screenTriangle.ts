import { BufferGeometry, Float32BufferAttribute, type Material, Mesh } from 'three'

/** One triangle that covers the whole target, for the vertex shader `screen.vert.glsl`. Its geometry is disposed by who made it. */
export function screenTriangle(material: Material): Mesh {
  const corners = new Float32BufferAttribute([-1, -1, 0, 3, -1, 0, -1, 3, 0], 3)
  const mesh = new Mesh(new BufferGeometry().setAttribute('position', corners), material)
  mesh.frustumCulled = false
  return mesh
}

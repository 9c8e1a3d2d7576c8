import { initializeCanvas, type Layer as Peer, type Psd, readPsd } from 'ag-psd'

initializeCanvas(
  () => {
    throw new Error('no canvas in tests')
  },
  (width, height) =>
    ({ width, height, data: new Uint8ClampedArray(width * height * 4), colorSpace: 'srgb' }) as ImageData,
)

/** ag-psd's own reading of a file. CMYK, Lab and so on need their mode written over by RGB, which it does not refuse. */
export function peerRead(bytes: Uint8Array, pixels: boolean): Psd {
  const copy = bytes.slice()
  if (copy[25]! > 3) copy[25] = 3
  return readPsd(copy, {
    useImageData: true,
    skipThumbnail: true,
    skipCompositeImageData: true,
    skipLayerImageData: !pixels,
    logMissingFeatures: false,
  })
}

/** Layers and groups bottom to top, a group above its members. */
export function flatten(layers: readonly Peer[] = []): Peer[] {
  return layers.flatMap(layer => [...flatten(layer.children), layer])
}

import { describe, expect, it } from 'vitest'
import { inflated } from '../../../core/base/inflate.ts'
import { decodeJpeg } from '../../../core/base/jpeg.ts'
import { jpegSamples, yccToRgb } from '../../../core/base/jpeg-samples.ts'

const bytesOf = (base64: string) => Uint8Array.from(atob(base64), letter => letter.charCodeAt(0))

/** A swirl of red and blue, 24 × 18 px (`convert gradient: -swirl 60 -quality 90 -sampling-factor`), and its RGB as libjpeg-turbo decodes it (`convert FILE rgb:`), packed. */
const pictures = [
  [
    'half both ways',
    [
      '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAAMCAgMCAgMDAwMEAwMEBQgFBQQEBQoHBwYIDAoMDAsKCwsNDhIQDQ4RDgsLEBYQERMUFRUV',
      'DA8XGBYUGBIUFRT/2wBDAQMEBAUEBQkFBQkUDQsNFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQU',
      'FBT/wAARCAASABgDASIAAhEBAxEB/8QAGAABAQADAAAAAAAAAAAAAAAAAAUBBgf/xAAbEAABBQEBAAAAAAAAAAAAAAAAAQIEEUFRMf/E',
      'ABkBAAIDAQAAAAAAAAAAAAAAAAEIAwQGB//EAB0RAAICAgMBAAAAAAAAAAAAAAACAQcDExEhIkH/2gAMAwEAAhEDEQA/AOIJNVdMOnVp',
      'CbOrQ+ajk9NYtczs4nH0d6ayo1yy5Oy62feg19sutBO9brE+UK+OzWlfTk216LXoA24n3wWAAgP/2Q==',
    ].join(''),
    [
      'eNp1zftPU2cYB/C/Y7i057T03G/tubU1TNCh3GWGm40gN6UijEJhMK5lygppGdfRAAYQOpioYIGJIJcZkkVg5bcR4adtRjcvf8Se02pd',
      'Fpd88uZ9v8/3yftWH/cG0fyNav4ygE/BK/0J8Eb3wWu95hXyCXiNxoG3+g9e6pAXet1zPfInovsDjUIAJOBFjA59rkcjtXfeT3UvET04',
      '1lNHCHGkp54hxCEahYFjlASQR0aAOYz4DQXUYcQRSkdr4FdEidpDpX1jlAWEDdIBKoUNchhV9wy2pwbrLwb7O0Yr2DXa9ozqvkHVOgZ5',
      'y3Bu0wiSN+PPbMaf3jIlbZtOgSfxSWAbQmPyevy5VVPqQyxtBU9bxrQLgATyDVPKVvxZEDLlhUw5i9iFEJYdwjKXsPRlPAP6D00ZK1jW',
      'kuk8jO7heXN4QZBwzJAOOMEs7oBkniiA0QKWt4jnTuPFYAYrChKXZomCOTz/Dp47T+TNY/l3MHg6pvHCCaJ0lCwfoa4OU86oEcoZIK+O',
      'UVdukeWTZNkUWRYgqiIqx8iKcbL8Flk8SV2eIi/fxosnidJxvDxAOgfJKj/t6mHqvGzDt0w96GYaehi3n3H30bX9dM0g7fKRX/nIej/l',
      '/o5yDdDVQ3QlfBegK0a0fysHqBo/XdfNNN5gmtvZ1ma2rYn1gBa2s5X1tDPtnUzbDablJtPcQXd20B4P29HJwrMJfoSPfHSdj3b30A1e',
      'pgWabew3TVyXm/N+yXdX8X5Qw/e6eF8t39PAdzdy3ibO62L9tVyvm/PVc95GvquJ72zhPPAX7LZyN79mu6Dp4nurhP4K81CZebjEHCg2',
      'j5YIo2VC4Ip5xCl8f40fqjQPlgjjsRCaTmHgOt9XLfTV8P3V/GCVMOw0B0rNY0XihEOcKpCmc8VgjhiEM98yc1GchvCSZarQMnFBnI/4',
      'MUecLRCDMIIcFFlmQKHlh4uWuVzx7hfyvUz5frqymCovpchLcKZJDzLlxSz5frYE7n4uPUpWVpOVn84qyymRaYa0kCkunLc8yBZDWdJy',
      'urySKj9KltdOq+uJytpn6uME9TGccE9S1s4oa5H1VZuyY1OeaNRtu7KVIG+cktcTpfUkEWyARHk7QfkZClZ1R1F3ZKsGLooVEm3RrsDi',
      'Nms90NjCgLPuC9Zds7prUXdF+amk7AKLsi+oMAozapiyhmnbQUT4/Yq2BdCTxzEGO3hm/A+blsc6iP3oo+JO/h5zwv5x/+78n38Appj3',
      'zw==',
    ].join(''),
  ],
  [
    'half across',
    [
      '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAAMCAgMCAgMDAwMEAwMEBQgFBQQEBQoHBwYIDAoMDAsKCwsNDhIQDQ4RDgsLEBYQERMUFRUV',
      'DA8XGBYUGBIUFRT/2wBDAQMEBAUEBQkFBQkUDQsNFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQU',
      'FBT/wAARCAASABgDASEAAhEBAxEB/8QAGAABAAMBAAAAAAAAAAAAAAAAAAECBQf/xAAbEAABBQEBAAAAAAAAAAAAAAAAAQIEEUFRMf/E',
      'ABkBAAIDAQAAAAAAAAAAAAAAAAEIAgQHBv/EABwRAAICAwEBAAAAAAAAAAAAAAECABIDBhFRMf/aAAwDAQACEQMRAD8A4gk1V0h06tOb',
      'XXLPUCOe2y1S5aGz70E21qp4VkE2gMOhphNnVofNRyejOrrRXMHAisNs4bCULSjZdaC5k16zdrKeLY6ry0zbXotem1UXyYfdufYsBovk',
      'F29n/9k=',
    ].join(''),
    [
      'eNp1zv1PU2cUB/B/Ys5tGQV6+3Zfe196b29bGRHRAaGzEhhocC2uIqmwOrsyGCAoOkpAWBVhCFY0DWBllYnIiw43SGHFsC1Z5n7ZfpnZ',
      'ftTNv2DftqMxTpNPnpxznnPO8zzL2fksZQf8o0l5qtkJT3Jez/r77Teynmheg6e5O17wZ25emibrcd6LtntSHv/PX3n58HM+C7/kM2kU',
      'PMo3wa9aEjKV7dsMNuuRlstKEA5Y19q/19qThHWTsD7Uylmb6cqGzrZOqAnCDutaR5p9g3Ak0za1Kcu60ntE6T3d3hUCilaJPatE4RpR',
      'uErsRvxAt+cbYi9u0bagh7JFXcmSvnRZ9y6gfl+/b0VfDHFD5a2Uitt615xu/13CuaAvX9KV47yrfw+Vr/UVccP7MUPNDUPNlPHQlLEa',
      'bhirYoaqm6ZKjMeNrlnjgasmzzWj55rpcNRUizb0xwzVM9tTUdMHuB0jj46QDcOkb4hqvEjj9A3R9SNk/WXKO056r1B1V6k6VIap+hHq',
      'wzESRQ/WTpDu66Q7QnrGySNoxtQA/VEffTLEBnrY4Fmm+XOmGUEvE+hnAoOM/wu66QLT1EO3hKjmPjo4QJ0MU368iKcvk8dGTfUjJl+Y',
      'buqnAueY9k72TCvb08z2fsLh7GnhzrWx3e1sVxfb0c20nWU+Q3yK6erkOk6zSFtCTBBP99Mn8Id+/IEJoq2dOxM0h06Yzzdyg8fN4UYu',
      '3MQPIg1wfZ9yIexs5bobzQN+86Cf7/vY3Bs046HuNq6rnT2FzR1cZyt3GkXc+oQLXvGSRxh1C1fcQsQtjtXxo17hy2P8cAN/0ccPeYQx',
      'yBSPCpca+PBxrE1v9pvP4130eIXhOnG8Vpw4KEWrxMlKaRpntRhFWitePyxGsLlKRHG6WpysESb/qwsTHj6CwSNCxCNGkB4SozXSVKUY',
      'OyB95ZTi5ZZZp2VmvzTjstyskGAam0ukO6WWeSiT5sssc07ptlOadYlxlxRDDwZdlltOyxwaSiwLxZbFInlpt7JUJC8iLpbv7JPnS+Q5',
      'sCvfgS0tE+9SVgrklQJluVBeLpDvv6M8cFi/tSlrqpJQrBuymqJYESdU6xpkZnk1CZz6MAupYE3y1oRoXRdU2OBsSda2RalbpPojZfsJ',
      'aNsPwKopnLoFGsfvWbmv8HxPjv23l3pz1x9Zbzle7vmeV/kXYd74Qw==',
    ].join(''),
  ],
] as const

describe('a JPEG with less colour than light', () => {
  it.each(pictures)('%s is within 3 of 255 of another decoder', (_, jpeg, rgb) => {
    const { data, width, height, components } = decodeJpeg(bytesOf(jpeg))
    expect([width, height, components]).toEqual([24, 18, 3])
    const want = inflated(bytesOf(rgb), 24 * 18 * 3)
    const differences = Array.from(data, (value, i) => Math.abs(value - want[i]!))
    // The two round their cosines differently: a level of light, two of colour.
    expect(Math.max(...differences)).toBeLessThanOrEqual(3)
    expect(differences.reduce((sum, value) => sum + value, 0) / differences.length).toBeLessThan(0.5)
  })

  it('is read in straight lines between samples at the middles of their pixels', () => {
    const output = new Int16Array(64 * 4)
    output.set([0, 160, 32])
    const half = { output, scaleX: 0.5, scaleY: 1, blocksPerLine: 1 }
    // Quarters: 0, (3·0 + 160) / 4, (3·160 + 0) / 4, (3·160 + 32) / 4, (3·32 + 160) / 4, 32.
    expect(Array.from(jpegSamples(6, 1, [half]))).toEqual([0, 40, 120, 128, 64, 32])
    const whole = { output, scaleX: 1, scaleY: 1, blocksPerLine: 1 }
    expect(Array.from(jpegSamples(3, 1, [whole]))).toEqual([0, 160, 32])
  })

  it('becomes RGB, and of four components ink', () => {
    // ITU-T T.871, section 7: red of full light is Y 76, Cb 85, Cr 255.
    const red = Uint8ClampedArray.of(76, 85, 255)
    yccToRgb(red, 3)
    expect(Array.from(red)).toEqual([254, 0, 0])
    const ink = Uint8ClampedArray.of(76, 85, 255, 9)
    yccToRgb(ink, 4)
    expect(Array.from(ink)).toEqual([1, 255, 255, 9])
  })
})

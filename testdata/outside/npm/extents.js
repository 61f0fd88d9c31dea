// Reads a drawing exchange file from standard input with two readers and writes
// what each saw as JSON: extents, and for every layer the number of entities and
// of closed ones, points and bulges.
const fs = require('fs')
const path = require('path')
const modules = path.join(__dirname, 'node_modules')
const { Helper } = require(path.join(modules, 'dxf'))
const DxfParser = require(path.join(modules, 'dxf-parser'))

const text = fs.readFileSync(0, 'utf8')

// arc gives the extreme points of the arc from a to b: those of the circle's four
// outermost points that lie between the ends in the sense of the bulge.
function arc (a, b, bulge) {
  const dx = b.x - a.x
  const dy = b.y - a.y
  const k = (1 - bulge * bulge) / (4 * bulge)
  const cx = (a.x + b.x) / 2 - k * dy
  const cy = (a.y + b.y) / 2 + k * dx
  const r = Math.hypot(dx, dy) * (1 + bulge * bulge) / (4 * Math.abs(bulge))
  const from = Math.atan2(a.y - cy, a.x - cx)
  const sweep = 4 * Math.atan(bulge)
  const out = []
  for (let i = 0; i < 4; i++) {
    const angle = i * Math.PI / 2
    let way = (angle - from) * Math.sign(sweep)
    way -= Math.floor(way / (2 * Math.PI)) * 2 * Math.PI
    if (way <= Math.abs(sweep)) out.push({ x: cx + r * Math.cos(angle), y: cy + r * Math.sin(angle) })
  }
  return out
}

// summary takes entities {layer, closed, points: [{x, y, bulge}], circle}.
function summary (entities) {
  const box = { min: [Infinity, Infinity], max: [-Infinity, -Infinity] }
  const layers = {}
  const see = q => {
    box.min = [Math.min(box.min[0], q.x), Math.min(box.min[1], q.y)]
    box.max = [Math.max(box.max[0], q.x), Math.max(box.max[1], q.y)]
  }
  for (const e of entities) {
    const layer = layers[e.layer] ||= { entities: 0, closed: 0, points: [] }
    layer.entities++
    if (e.closed) layer.closed++
    if (e.circle) {
      const { x, y, r } = e.circle
      see({ x: x - r, y: y - r })
      see({ x: x + r, y: y + r })
      layer.points.push([x, y, r])
      continue
    }
    e.points.forEach((p, i) => {
      see(p)
      const bulge = p.bulge || 0
      layer.points.push([p.x, p.y, bulge])
      const last = i === e.points.length - 1
      if (bulge !== 0 && !(last && !e.closed)) arc(p, e.points[(i + 1) % e.points.length], bulge).forEach(see)
    })
  }
  return { ...box, layers }
}

function withDxf () {
  const helper = new Helper(text)
  const entities = helper.denormalised.filter(e => e.type !== 'TEXT').map(e => {
    if (e.type === 'CIRCLE') return { layer: e.layer, closed: true, circle: e }
    if (e.type === 'POINT') return { layer: e.layer, points: [e] }
    return { layer: e.layer, closed: !!e.closed, points: e.vertices }
  })
  const own = helper.toPolylines().bbox // arcs as chords
  return { ...summary(entities), own: [own.min.x, own.min.y, own.max.x, own.max.y] }
}

function withDxfParser () {
  const file = new (DxfParser.default || DxfParser)().parseSync(text)
  const entities = file.entities.filter(e => e.type !== 'TEXT').map(e => {
    if (e.type === 'CIRCLE') return { layer: e.layer, closed: true, circle: { x: e.center.x, y: e.center.y, r: e.radius } }
    if (e.type === 'POINT') return { layer: e.layer, points: [e.position] }
    return { layer: e.layer, closed: !!e.shape, points: e.vertices }
  })
  const lo = file.header.$EXTMIN
  const hi = file.header.$EXTMAX
  return { ...summary(entities), header: [lo.x, lo.y, hi.x, hi.y], units: file.header.$INSUNITS || 0 }
}

process.stdout.write(JSON.stringify({ dxf: withDxf(), parser: withDxfParser() }))

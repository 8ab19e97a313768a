// solve.js CASES.json - solves each network of a list with EPANET and prints the
// list of answers. A case is {inp: text, options: [settings of the solver]}; an
// answer is {nodes: {id: head in m}, links: {id: flow in L/s}, emitted: {id: L/s},
// solved: whether it converged} or {error}.
const fs = require('fs');
const epanet = require('epanet-js');

async function main() {
  const cases = JSON.parse(fs.readFileSync(process.argv[2], 'utf8'));
  const ws = new epanet.Workspace();
  if (ws.loadModule) await ws.loadModule();
  console.log(JSON.stringify({ version: ws.version, answers: cases.map((c) => solve(ws, c)) }));
}

// solve tries the settings of the solver in turn until one leads to a solution.
function solve(ws, c) {
  let answer;
  for (const options of c.options) {
    answer = solveWith(ws, c.inp, options);
    if (answer.solved) break;
  }
  return answer;
}

function solveWith(ws, inp, options) {
  const model = new epanet.Project(ws);
  ws.writeFile('case.inp', inp);
  try {
    model.open('case.inp', 'case.rpt', 'case.out');
    for (const [option, value] of Object.entries(options)) model.setOption(epanet.Option[option], value);
    model.openH();
    model.initH(0);
    model.runH();
    const answer = {
      nodes: {}, links: {}, emitted: {},
      solved: model.getStatistic(epanet.AnalysisStatistic.Iterations) <= model.getOption(epanet.Option.Trials),
    };
    for (let i = 1; i <= model.getCount(epanet.CountType.NodeCount); i++) {
      const id = model.getNodeId(i);
      answer.nodes[id] = model.getNodeValue(i, epanet.NodeProperty.Head);
      answer.emitted[id] = model.getNodeValue(i, epanet.NodeProperty.Demand);
    }
    for (let i = 1; i <= model.getCount(epanet.CountType.LinkCount); i++) {
      answer.links[model.getLinkId(i)] = model.getLinkValue(i, epanet.LinkProperty.Flow);
    }
    model.closeH();
    model.close();
    return answer;
  } catch (e) {
    let report = '';
    try { report = ws.readFile('case.rpt'); } catch (_) { /* none was written */ }
    try { model.close(); } catch (_) { /* was not open */ }
    return { error: String(e) + report };
  }
}

main();

// review.js HISTORIES.json - lets ts-fsrs schedule each history of a list and
// prints the list of what it made of them. A history is a list of [second,
// grade]; what it makes of each review is [stability, difficulty, due second,
// reps, lapses].
const fs = require('fs');
const { fsrs, createEmptyCard, FSRSVersion } = require('ts-fsrs');

const scheduler = fsrs({ enable_fuzz: false, enable_short_term: true, learning_steps: [], relearning_steps: [] });

function schedule(history) {
  let card = createEmptyCard(new Date(history[0][0] * 1000));
  return history.map(([second, grade]) => {
    card = scheduler.next(card, new Date(second * 1000), grade).card;
    return [card.stability, card.difficulty, card.due.getTime() / 1000, card.reps, card.lapses];
  });
}

const histories = JSON.parse(fs.readFileSync(process.argv[2], 'utf8'));
console.log(JSON.stringify({ version: FSRSVersion, cards: histories.map(schedule) }));

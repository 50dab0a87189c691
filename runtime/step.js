// The steps of one drawing: which there are, and what is seen at each. Shared by the player of a lone figure and by the page of slides.
// Needs the groups .step, .caption, .question and .cued of the drawing. Never moves a thing of it.
function sagittaSteps(svg) {
'use strict';
function all(name) { return Array.prototype.filter.call(svg.children, function (node) { return node.classList.contains(name); }); }
var steps = all('step'), captions = all('caption'), questions = all('question'), title = svg.querySelector('title');
// What describes the whole tells the end: until then what is given is told, and the captions so far.
var desc = Array.prototype.filter.call(svg.children, function (node) { return node.localName === 'desc'; })[0], whole = desc && desc.textContent;
var cued = Array.prototype.slice.call(svg.querySelectorAll('.cued'));
// A stage is a step, or the question put before it.
var stages = [];
steps.forEach(function (group, k) {
    questions.forEach(function (question) { if (Number(question.getAttribute('data-step')) === k) stages.push({ step: k - 1, question: question }); });
    stages.push({ step: k });
});
function look(node, step) {
    var now = 'plain', words = { s: 'plain', f: 'faded', h: 'gone' };
    node.getAttribute('data-look').split(' ').forEach(function (cue) { if (parseInt(cue, 10) <= step) now = words[cue.slice(-1)]; });
    ['plain', 'faded', 'gone'].forEach(function (word) { node.classList.toggle(word, word === now); });
}
function told(k) {
    var desc = steps[k].querySelector('desc');
    return desc ? desc.textContent : title && k === 0 ? title.textContent : '';
}
// Once its light has arrived, a step is drawn plainly again.
function rest(group) {
    if (!group.getAnimations) return;
    var moves = group.getAnimations({ subtree: true });
    Promise.all(moves.map(function (move) { return move.finished; }))
        .then(function () { group.classList.remove('now'); }, function () {});
}
return {
    stages: stages,
    last: steps.length - 1,
    told: told,
    asked: function (stage) { return stages[stage].question.querySelector('desc').textContent; },
    // The picture becomes a document of parts.
    begin: function () {
        svg.classList.add('js');
        svg.setAttribute('role', 'graphics-document');
        if (title) svg.setAttribute('aria-labelledby', title.id);
        steps.forEach(function (group, k) {
            group.setAttribute('role', 'graphics-object');
            group.setAttribute('aria-label', told(k) || (svg.getAttribute('data-step') || '{step}').replace('{step}', k));
        });
        captions.concat(questions).forEach(function (group) { group.setAttribute('aria-hidden', 'true'); });
    },
    show: function (stage, draw) {
        var to = stages[stage].step, question = stages[stage].question;
        steps.forEach(function (group, k) {
            group.classList.toggle('later', k > to);
            group.classList.toggle('now', draw && k === to);
            if (k > to) group.setAttribute('aria-hidden', 'true');
            else group.removeAttribute('aria-hidden');
        });
        captions.forEach(function (group, k) { group.classList.toggle('told', !question && k + 1 === to); });
        questions.forEach(function (group) { group.classList.toggle('told', group === question); });
        cued.forEach(function (node) { look(node, to); });
        if (desc) desc.textContent = stage === stages.length - 1 ? whole : [svg.getAttribute('data-given')].concat(steps.map(function (group, k) { return k > 0 && k <= to ? told(k) : ''; })).filter(Boolean).join(' ');
        if (draw) rest(steps[to]);
    }
};
}

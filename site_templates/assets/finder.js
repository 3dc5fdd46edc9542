// The fault finder one question at a time: hides all of the plain list but where one stands.
(() => {
  "use strict";

  const pressed = (says, act) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "hb-press";
    button.textContent = says;
    button.addEventListener("click", act);
    return button;
  };

  const stepwise = (list) => {
    const questions = [...list.children];
    const passed = [];
    let here = questions[0];
    let whole = false;

    const show = (question) => {
      here = question;
      questions.forEach((each) => { each.hidden = !whole && each !== here; });
      here.querySelectorAll(".hb-end").forEach((end) => { end.hidden = !whole; });
      back.hidden = whole || !passed.length;
    };
    const go = (question) => {
      show(question);
      question.focus({ preventScroll: true });
      question.scrollIntoView({ block: "center" });
    };

    const back = pressed("Back", () => { if (passed.length) go(passed.pop()); });
    const all = pressed("Whole list", () => {
      whole = !whole;
      all.textContent = whole ? "One at a time" : "Whole list";
      questions.forEach((each) => each.querySelectorAll(".hb-end").forEach((end) => {
        end.hidden = !whole;
      }));
      show(here);
    });

    for (const question of questions) {
      question.tabIndex = -1;
      for (const link of question.querySelectorAll("a[href^='#']")) {
        const next = document.getElementById(link.hash.slice(1));
        link.after(pressed(link.textContent, () => { passed.push(question); go(next); }));
        link.remove();
      }
      for (const end of question.querySelectorAll(".hb-end")) {
        const word = end.parentElement.querySelector("b");
        const button = pressed(word.textContent, () => {
          end.hidden = !end.hidden;
          button.setAttribute("aria-expanded", String(!end.hidden));
        });
        button.setAttribute("aria-expanded", "false");
        end.setAttribute("role", "status");
        word.nextSibling.remove();
        word.replaceWith(button);
        end.hidden = true;
      }
    }
    const turn = document.createElement("li");
    turn.className = "hb-turn";
    turn.append(back, all);
    list.append(turn);
    show(here);
  };

  document.querySelectorAll(".hb-finder .hb-questions").forEach(stepwise);
})();

//! The ratings of woods against what trials found.
//! Never a yield: trials give orders, not promises.
//! Invariant: no published order is turned round in the table.

use shadeyard_backend::woods::rules::{Rating, woods};

fn shiitake(id: &str) -> Option<Rating> {
    woods().iter().find(|w| w.id == id).and_then(|w| w.shiitake)
}

fn hericium(id: &str) -> Option<Rating> {
    woods().iter().find(|w| w.id == id).and_then(|w| w.hericium)
}

fn surely_better(a: Option<Rating>, b: Option<Rating>) -> bool {
    a.zip(b).is_some_and(|(a, b)| a.low > b.high)
}

/// Source: Bruhn, Mihail & Pickens 2009, Bioresource Technology 100:6472: sugar maple gave more than
/// white and northern red oak. Five steps can't part them; the table must not put them the other way.
#[test]
fn no_oak_is_rated_above_sugar_maple() {
    for oak in ["white-oak", "red-oak", "chestnut-oak"] {
        assert!(shiitake(oak).is_some() && !surely_better(shiitake(oak), shiitake("sugar-maple")), "{oak}");
    }
}

/// Source: HortTechnology 6(4), 1996: white and red oak gave more than black cherry, sassafras, sycamore.
#[test]
fn oaks_are_rated_above_cherry_sassafras_and_sycamore() {
    for oak in ["white-oak", "red-oak"] {
        for poor in ["black-cherry", "sassafras", "sycamore"] {
            assert!(surely_better(shiitake(oak), shiitake(poor)), "{oak} {poor}");
        }
    }
}

/// Source: Frey et al. 2020, HortTechnology 30:741: sweetgum and white oak alike, then red maple, then
/// ailanthus.
#[test]
fn sweetgum_stands_with_white_oak_above_red_maple_above_ailanthus() {
    assert_eq!(shiitake("sweetgum"), shiitake("white-oak"));
    assert!(surely_better(shiitake("sweetgum"), shiitake("red-maple")));
    assert!(surely_better(shiitake("red-maple"), shiitake("ailanthus")));
}

/// Source: common practice: oak, sugar maple, sweetgum and hornbeam are the best for shiitake; beech,
/// mulberry and sugar maple for Hericium.
#[test]
fn the_best_woods_are_the_ones_growers_name() {
    for id in ["white-oak", "red-oak", "sugar-maple", "sweetgum", "hornbeam"] {
        assert_eq!(shiitake(id).map(|r| r.low), Some(4), "{id}");
    }
    for id in ["beech", "mulberry", "sugar-maple"] {
        assert_eq!(hericium(id).map(|r| r.low), Some(4), "{id}");
    }
}

/// Source: common practice: neither mushroom lives on softwood, nor on black locust.
#[test]
fn conifers_and_black_locust_are_unsuitable() {
    let nothing = Some(Rating { low: 0, high: 0 });
    let conifers: Vec<_> = woods().iter().filter(|w| w.conifer).collect();
    assert_eq!(conifers.len(), 8);
    for wood in conifers.into_iter().chain(woods().iter().filter(|w| w.id == "black-locust")) {
        assert_eq!((wood.shiitake, wood.hericium), (nothing, nothing), "{}", wood.id);
    }
}

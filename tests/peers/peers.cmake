# The same heads in other people's solvers. Simbody and MuJoCo are wanted by the tests and the benchmark only; what is
# not installed is skipped, and said so. Included from the folder above.
find_package(Simbody QUIET)
# Not find_package(mujoco): Debian's configuration names a folder that the package does not install.
find_library(MUJOCO_LIBRARY mujoco)
find_path(MUJOCO_INCLUDE_DIR mujoco/mujoco.h)

add_library(swashwright_peers STATIC peers/plain_head.cpp peers/loop_newton.cpp)
target_link_libraries(swashwright_peers PUBLIC swashwright_kinematics)
target_compile_options(swashwright_peers PRIVATE $<$<CONFIG:Release>:-O3>)

set(peer_tests peers/closed_form_test.cpp bench/closed_form.cpp)
set_source_files_properties(bench/closed_form.cpp PROPERTIES COMPILE_OPTIONS "-fno-math-errno")

if(Simbody_FOUND)
  # Simbody's headers are C++17: this one file is compiled so, and sees bare numbers only.
  add_library(swashwright_simbody_head STATIC peers/simbody_head.cpp)
  # Debian builds Simbody with assertions on, which add members to its State: a caller with NDEBUG would crash.
  set_target_properties(swashwright_simbody_head PROPERTIES CXX_STANDARD 17)
  target_compile_options(swashwright_simbody_head PRIVATE -UNDEBUG)
  target_include_directories(swashwright_simbody_head PRIVATE ${PROJECT_SOURCE_DIR})
  target_include_directories(swashwright_simbody_head SYSTEM PRIVATE ${Simbody_INCLUDE_DIR})
  target_link_libraries(swashwright_simbody_head PRIVATE ${Simbody_LIBRARIES} 
    PUBLIC swashwright_peers)
  list(APPEND peer_tests peers/simbody_test.cpp)
else()
  message(STATUS "Simbody was not found: heads are not compared with it (Debian: libsimbody-dev).")
endif()

if(MUJOCO_LIBRARY AND MUJOCO_INCLUDE_DIR)
  add_library(swashwright_mujoco_head STATIC peers/mujoco_head.cpp peers/mujoco_linkage.cpp peers/mujoco_blade.cpp)
  target_include_directories(swashwright_mujoco_head SYSTEM PRIVATE ${MUJOCO_INCLUDE_DIR})
  target_link_libraries(swashwright_mujoco_head PRIVATE ${MUJOCO_LIBRARY} PUBLIC swashwright_peers)
  list(APPEND peer_tests peers/mujoco_test.cpp peers/mujoco_linkage_test.cpp peers/mujoco_blade_test.cpp)
else()
  message(STATUS "MuJoCo was not found: heads are not compared with it (Debian: libmujoco-dev).")
endif()

add_executable(peers_tests ${peer_tests})
target_link_libraries(peers_tests PRIVATE swashwright_peers GTest::gtest_main nlohmann_json::nlohmann_json)
foreach(peer simbody mujoco)
  if(TARGET swashwright_${peer}_head)
    target_link_libraries(peers_tests PRIVATE swashwright_${peer}_head)
  endif()
endforeach()
target_compile_definitions(peers_tests PRIVATE SWASHWRIGHT_TEST_DATA="${CMAKE_CURRENT_SOURCE_DIR}/data")
gtest_discover_tests(peers_tests TEST_PREFIX "peers/" DISCOVERY_TIMEOUT 60 PROPERTIES TIMEOUT 300)
